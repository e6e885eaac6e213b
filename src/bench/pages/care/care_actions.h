// What can be done on the page Care, by name. The keys, the list of all actions and the tests go
// through this one table.
#pragma once

#include "bench/desk_actions.h"
#include "bench/pages/care/care_desk.h"

namespace coilbook::bench::care_page {

[[nodiscard]] const DeskActions<Desk>& table_of(const Desk&);

}  // namespace coilbook::bench::care_page
