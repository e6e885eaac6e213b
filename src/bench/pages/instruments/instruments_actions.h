// What can be done on the page of the instruments, by name. The keys, the list of all actions and
// the tests go through this one table.
#pragma once

#include <string_view>
#include <vector>

#include "bench/page.h"
#include "bench/pages/instruments/instruments_form.h"

namespace coilbook::bench::instruments_page {

// `instrument` is the one in hand, as the catalogue has it; null without one.
struct Place {
    const View& view;
    Form& form;
    Outbox<Command>& outbox;
    const app::AnyInstrument* instrument;
};

// All actions, in the order in which they are listed.
[[nodiscard]] std::vector<Action> instruments_actions(const View& view);
// Does the action of that name: edits the form or posts a command. Nothing for an unknown name.
void perform(std::string_view action, const Place& at);
// The actions whose keys went down in this frame.
void watch_keys(const Place& at);

}  // namespace coilbook::bench::instruments_page
