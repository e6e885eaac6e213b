// What can be done on the page Conflicts, by name. The keys, the list of all actions and the tests
// go through this one table.
#pragma once

#include <string_view>
#include <vector>

#include "bench/pages/conflicts/conflicts_desk.h"
#include "bench/widgets/action.h"

namespace coilbook::bench::conflicts_page {

[[nodiscard]] std::vector<Action> conflicts_actions(Desk& desk);
// Does it, or posts the command for it. Nothing for an unknown name or what cannot be now.
void perform(std::string_view action, Desk& desk);
// The actions whose keys went down in this frame.
void watch_keys(Desk& desk);

}  // namespace coilbook::bench::conflicts_page
