// The bin as lines that are searched and sorted: plain values, no window, no database.
//
// Made for a hundred thousand lines: what a line says is worked out once, searching goes through
// one prepared text a line, and only the lines in sight are ever put into words.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/bin.h"

namespace coilbook::bench {

// What the lines can be sorted by; the columns of the page, in their order.
enum class SortBy { code, state, what, weight, diameter, density, rate, next, group, notes };
inline constexpr std::size_t columns = 10;

struct BinLine {
    Id<Coil> coil;
    std::string code;
    std::string notes;
    bool is_known = false;  // the summary has been worked out
    app::CoilSummary summary;
    std::size_t group = 0;  // from 1; 0: not grouped
    std::size_t group_size = 0;
    std::string text;  // all words of it in small letters, to be searched
};

// The line of a coil, with what is known of it already.
[[nodiscard]] BinLine line_of(const Coil& coil, const app::CoilSummary* known);

// The words of the line that can be searched; to be kept in BinLine::text.
[[nodiscard]] std::string searchable(const BinLine& line);

// What is looked for: words that must all be somewhere in a line, and a range of weight per foot in
// the units of the set, or the one that is written behind ("10..12", "..6", "14..", "2..2.5 g/m");
// and how far a coil has come.
struct Wanted {
    std::vector<std::string> words;
    std::optional<LinearDensity> from, to;
    std::optional<app::CoilState> state;

    bool operator==(const Wanted&) const = default;
};
[[nodiscard]] Wanted wanted_from(std::string_view typed, std::optional<app::CoilState> state,
                                 const Units& units = grains_and_feet);
// The same text with the unit behind a bare range, so that it keeps its meaning under other units.
[[nodiscard]] std::string with_unit_said(std::string_view typed, const Units& units);
[[nodiscard]] bool fits(const BinLine& line, const Wanted& wanted);

struct Order {
    SortBy by = SortBy::code;
    bool is_descending = false;

    bool operator==(const Order&) const = default;
};

// The indices of the lines that fit, in that order. Lines without a figure come last either way;
// equal ones stand in the order of the lines.
[[nodiscard]] std::vector<std::size_t> found(const std::vector<BinLine>& lines,
                                             const Wanted& wanted, const Order& order);

// How many lines are in each state, in the order of app::CoilState.
[[nodiscard]] std::vector<std::size_t> counted(const std::vector<BinLine>& lines);

}  // namespace coilbook::bench
