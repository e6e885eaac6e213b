// What can be done on the page Stock, by name. The keys, the list of all actions and the tests go
// through this one table.
#pragma once

#include <string_view>
#include <vector>

#include "bench/pages/stock/stock_desk.h"
#include "bench/widgets/action.h"

namespace coilbook::bench::stock_page {

[[nodiscard]] std::vector<Action> stock_actions(Desk& desk);
// Does it, or posts the command for it. Nothing for an unknown name or what cannot be now.
void perform(std::string_view action, Desk& desk);
// The actions whose keys went down in this frame.
void watch_keys(Desk& desk);

}  // namespace coilbook::bench::stock_page
