// What can be done at the bench, by name. The keys, the list of all actions and the tests go
// through this one table.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "bench/page.h"
#include "bench/pages/bench/bench_form.h"

namespace coilbook::bench::bench_page {

// All actions, in the order in which they are listed.
[[nodiscard]] std::vector<Action> bench_actions(const View& view);

// Does the action of that name: edits the form or posts a command. Nothing for an unknown name.
void perform(std::string_view action, const View& view, Form& form, Outbox<Command>& outbox);

// The actions whose keys went down in this frame, and the keys 1 to 9 with Ctrl, which choose one
// of the answers to be confirmed.
void watch_keys(const View& view, Form& form, Outbox<Command>& outbox);

}  // namespace coilbook::bench::bench_page
