#include "catalog/facets.h"

#include <charconv>
#include <utility>

#include "base/text.h"

namespace coilbook {
namespace {

constexpr std::array family_names{
    std::pair{Family::level_line, "level line"},
    std::pair{Family::matched_tip, "matched tip"},
    std::pair{Family::sinking_leader, "sinking leader"},
    std::pair{Family::unlisted, "unlisted"},
};
constexpr std::array tint_names{
    std::pair{Tint::clear, "clear"}, std::pair{Tint::pale, "pale"},
    std::pair{Tint::brown, "brown"}, std::pair{Tint::dark, "dark"},
    std::pair{Tint::black, "black"},
};
constexpr std::array taper_names{
    std::pair{Taper::level, "level"},
    std::pair{Taper::tapered, "tapered"},
};

template <class Table, class Value>
std::string name_in(const Table& table, Value value) {
    for (const auto& [each, name] : table) {
        if (each == value) return name;
    }
    return "?";
}

template <class Table>
auto value_in(const Table& table, std::string_view name)
    -> Result<std::remove_cvref_t<decltype(table.front().first)>> {
    const auto wanted = lower_ascii(trimmed(name));
    for (const auto& [value, each] : table) {
        if (wanted == each) return value;
    }
    std::string known;
    for (const auto& [value, each] : table) {
        known += (known.empty() ? "" : ", ") + std::string(each);
    }
    return problem("", quoted(name) + " is not known here", "one of " + known);
}

// The whole number that is all of `digits`, within low … high.
std::optional<int> whole_number(std::string_view digits, int low, int high) {
    int number = 0;
    const auto [stop, error] =
        std::from_chars(digits.data(), digits.data() + digits.size(), number);
    const bool all = error == std::errc{} && stop == digits.data() + digits.size();
    if (!all || number < low || number > high) return std::nullopt;
    return number;
}

}  // namespace

std::string name_of(GrainClass grain_class) {
    return "T-" + std::to_string(grain_class.grains_per_foot);
}
std::string name_of(DensityGrade grade) {
    if (grade.floats()) return "floating";
    if (grade.rank() == 0) return "intermediate";
    return "type " + std::to_string(grade.rank());
}
std::string name_of(LineSize line_size) {
    return std::to_string(line_size.number);
}
std::string name_of(Family family) {
    return name_in(family_names, family);
}
std::string name_of(Tint tint) {
    return name_in(tint_names, tint);
}
std::string name_of(Taper taper) {
    return name_in(taper_names, taper);
}

Result<GrainClass> grain_class_from(std::string_view name) {
    const auto lower = lower_ascii(trimmed(name));
    if (lower.starts_with("t-")) {
        if (const auto n = whole_number(std::string_view(lower).substr(2), 1, 99)) {
            return GrainClass{*n};
        }
    }
    return problem("", quoted(name) + " is not a grain class", "T- and grains per foot, as T-11");
}

Result<DensityGrade> density_grade_from(std::string_view name) {
    const auto lower = lower_ascii(trimmed(name));
    if (lower == "floating") return DensityGrade::floating();
    if (lower == "intermediate") return DensityGrade::intermediate();
    if (lower.starts_with("type ")) {
        if (const auto n = whole_number(std::string_view(lower).substr(5), 1, 9)) {
            return DensityGrade::type(*n);
        }
    }
    return problem("", quoted(name) + " is not a density grade",
                   "floating, intermediate, or type 1 to type 9");
}

Result<LineSize> line_size_from(std::string_view name) {
    if (const auto n = whole_number(trimmed(name), 1, 15)) return LineSize{*n};
    return problem("", quoted(name) + " is not a line size", "a whole number from 1 to 15");
}

Result<Family> family_from(std::string_view name) {
    return value_in(family_names, name);
}
Result<Tint> tint_from(std::string_view name) {
    return value_in(tint_names, name);
}
Result<Taper> taper_from(std::string_view name) {
    return value_in(taper_names, name);
}

}  // namespace coilbook
