// What can be done on the page of the bin, by name.
#pragma once

#include <string_view>
#include <vector>

#include "bench/pages/bin/bin_desk.h"
#include "bench/widgets/action.h"

namespace coilbook::bench::bin_page {

[[nodiscard]] std::vector<Action> bin_actions(Desk& desk);
// Does it, or posts the command for it. Nothing for an unknown name or what cannot be now.
void perform(std::string_view action, Desk& desk);
// The actions whose keys went down in this frame.
void watch_keys(Desk& desk);

}  // namespace coilbook::bench::bin_page
