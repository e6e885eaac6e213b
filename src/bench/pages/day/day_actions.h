// What can be done on the page Day, by name. The keys, the list of all actions and the tests go
// through this one table.
#pragma once

#include "bench/desk_actions.h"
#include "bench/pages/day/day_desk.h"

namespace coilbook::bench::day_page {

[[nodiscard]] const DeskActions<Desk>& table_of(const Desk&);

}  // namespace coilbook::bench::day_page
