// Is the catalogue what it should be? Rows of `coilbook check`.
#pragma once

#include <filesystem>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/table.h"
#include "app/workshop.h"

namespace coilbook::app {

// Looks at the whole catalogue (store/audit.h) and tells of each thing looked at whether it is
// fine, and what is wrong with it. Columns: inspected, state (`fine` or `wrong`), detail; a thing
// with several faults has a row for each. A damaged search index is thrown away, which is told. A
// damaged file is read as far as it goes. What a person has to settle after a merge is no fault,
// and told beside it. Gives whether everything is fine. Throws Error where the
// file is no catalogue at all.
[[nodiscard]] bool check_catalogue(const std::filesystem::path& file, std::ostream& out,
                                   Format format, std::size_t terminal_width = 0);

// The same of the catalogue that is open here. The workshop's progress is told, and may break it
// off.
[[nodiscard]] std::vector<store::Inspection> look_through(Workshop& workshop);

// "2 things are to be settled after a merge, see 'coilbook conflicts list': coil A7, tint; coil B2,
// place"; empty where there is nothing. `shown_by` says where they are shown whole.
[[nodiscard]] std::string what_is_to_settle(Workshop& workshop, std::string_view shown_by);

}  // namespace coilbook::app
