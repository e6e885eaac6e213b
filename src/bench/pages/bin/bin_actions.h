// What can be done on the page Bin, by name. The keys, the list of all actions and the tests go
// through this one table.
#pragma once

#include "bench/desk_actions.h"
#include "bench/pages/bin/bin_desk.h"

namespace coilbook::bench::bin_page {

[[nodiscard]] const DeskActions<Desk>& table_of(const Desk&);

}  // namespace coilbook::bench::bin_page
