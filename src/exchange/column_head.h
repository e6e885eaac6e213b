// The head of a column in a file that people fill in: a name and perhaps the unit of the bare
// numbers below it, "sample_weight [gr]".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "catalog/readings.h"

namespace coilbook::exchange {

struct ColumnHead {
    std::string name;  // lower case, without blanks at its ends
    std::string unit;  // empty: none

    bool operator==(const ColumnHead&) const = default;
};

// A Problem (field: the name) for a bracket that is not closed or closed before the end.
[[nodiscard]] Result<ColumnHead> column_head_from(std::string_view text);

// All heads of a header row. A Problem also for tabs between them and a name that occurs twice;
// empty heads may repeat.
[[nodiscard]] Result<std::vector<ColumnHead>> column_heads_from(
    const std::vector<std::string>& header);

// The index of the column of that name.
[[nodiscard]] std::optional<std::size_t> column_named(const std::vector<ColumnHead>& heads,
                                                      std::string_view name);

// `unit` as a NumberStyle's column_unit takes it, if bare numbers of `field` can have it; capitals
// are forgiven. A Problem names the field and the units that would be accepted.
[[nodiscard]] Result<std::string> column_unit_for(ReadingField field, std::string_view unit);

}  // namespace coilbook::exchange
