#include "exchange/column_head.h"

#include <algorithm>
#include <cassert>

#include "base/text.h"

namespace coilbook::exchange {
namespace {

// What reading "1" in a column of `unit` says: nothing where it is understood.
std::optional<Problem> problem_with(ReadingField field, std::string_view unit) {
    const auto error_of = [](const auto& result) {
        return result ? std::nullopt : std::optional(result.error());
    };
    const NumberStyle style{'.', unit};
    switch (field) {
        case ReadingField::sample_weight:
        case ReadingField::submerged_weight:
        case ReadingField::whole_weight:
            return error_of(parse_mass("1", style));
        case ReadingField::sample_length:
        case ReadingField::diameters:
        case ReadingField::sink_distance:
        case ReadingField::whole_length:
            return error_of(parse_length("1", style));
        case ReadingField::sink_time:
            return error_of(parse_duration("1", style));
        case ReadingField::water_temperature:
            return error_of(parse_temperature("1", style));
        case ReadingField::tint:
        case ReadingField::taper:
        case ReadingField::floats:
            return Problem{"", "", "no unit in this column's head"};
    }
    assert(false && "every field is tried above");
    return std::nullopt;
}

}  // namespace

Result<ColumnHead> column_head_from(std::string_view text) {
    const auto head = trimmed(text);
    const auto open = head.find('[');
    if (open == std::string_view::npos) return ColumnHead{lower_ascii(head), ""};
    const auto name = lower_ascii(trimmed(head.substr(0, open)));
    const auto close = head.find(']', open);
    const auto unit = trimmed(head.substr(open + 1, close - open - 1));
    if (close != head.size() - 1 || unit.empty()) {
        return problem(name, quoted(head) + " is not a column head",
                       "a name, or a name and a unit as sample_weight [gr]");
    }
    return ColumnHead{name, std::string(unit)};
}

Result<std::vector<ColumnHead>> column_heads_from(const std::vector<std::string>& header) {
    if (header.size() == 1 && header.front().find('\t') != std::string::npos) {
        return problem("", "the columns are separated by tabs",
                       "a file with commas or semicolons between them; a spreadsheet calls it CSV");
    }
    std::vector<ColumnHead> heads;
    for (const auto& text : header) {
        auto head = column_head_from(text);
        if (!head) return tl::unexpected(head.error());
        if (!head->name.empty() && column_named(heads, head->name)) {
            return problem(head->name, "the column stands twice in the header",
                           "every column once");
        }
        heads.push_back(std::move(*head));
    }
    return heads;
}

std::optional<std::size_t> column_named(const std::vector<ColumnHead>& heads,
                                        std::string_view name) {
    const auto found = std::ranges::find(heads, name, &ColumnHead::name);
    if (found == heads.end()) return std::nullopt;
    return static_cast<std::size_t>(found - heads.begin());
}

Result<std::string> column_unit_for(ReadingField field, std::string_view unit) {
    const auto wrong = problem_with(field, unit);
    if (!wrong) return std::string(unit);
    return problem(std::string(name_of(field)),
                   "the column's head has the unknown unit " + quoted(unit), wrong->suggestion);
}

}  // namespace coilbook::exchange
