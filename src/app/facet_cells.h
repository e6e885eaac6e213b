// The trade's names as cells: a line size is a number, the others are words, none is missing.
#pragma once

#include <optional>

#include "app/table.h"
#include "catalog/facets.h"

namespace coilbook::app {

[[nodiscard]] inline Cell facet_cell(const std::optional<LineSize>& line_size) {
    if (!line_size) return {};
    return std::int64_t{line_size->number};
}
template <class Value>
[[nodiscard]] Cell facet_cell(const std::optional<Value>& value) {
    if (!value) return {};
    return name_of(*value);
}

}  // namespace coilbook::app
