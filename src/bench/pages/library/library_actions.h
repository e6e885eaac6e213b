// What can be done on the page Library, by name. The keys, the list of all actions and the tests go
// through this one table.
#pragma once

#include <string_view>
#include <vector>

#include "bench/outbox.h"
#include "bench/page.h"
#include "bench/pages/library/library_commands.h"
#include "bench/pages/library/library_form.h"
#include "bench/pages/library/library_view.h"

namespace coilbook::bench::library_page {

// All actions, in the order in which they are listed.
[[nodiscard]] std::vector<Action> library_actions(const View& view, const Form& form);

// Does the action of that name: edits the form or posts a command. Nothing for an unknown name.
void perform(std::string_view action, const View& view, Form& form, Outbox<Command>& outbox);

// The actions whose keys went down in this frame.
void watch_keys(const View& view, Form& form, Outbox<Command>& outbox);

// The map shows the chosen class and what is about it.
void zoom_to_chosen(const View& view, Form& form);

}  // namespace coilbook::bench::library_page
