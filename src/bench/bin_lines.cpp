#include "bench/bin_lines.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/text.h"
#include "quantity/parse.h"
#include "quantity/units.h"

namespace coilbook::bench {
namespace {

constexpr double no_figure = HUGE_VAL;

std::optional<LinearDensity> weight_in(std::string_view text, std::string_view unit) {
    const auto weight = parse_linear_density(text, {'.', unit});
    return weight ? std::optional(weight->value) : std::nullopt;
}

bool is_unit(std::string_view word) {
    return parse_linear_density("1", {'.', word}).has_value();
}

// "10..12" as a range; nothing for a word that only looks like one.
bool take_range(std::string_view word, std::string_view unit, Wanted& wanted) {
    const auto dots = word.find("..");
    if (dots == std::string_view::npos) return false;
    const auto low = word.substr(0, dots), high = word.substr(dots + 2);
    const auto from = weight_in(low, unit), to = weight_in(high, unit);
    if ((!low.empty() && !from) || (!high.empty() && !to) || (!from && !to)) return false;
    wanted.from = from;
    wanted.to = to;
    return true;
}

// The figure that a line is sorted by; infinite where it has none.
double figure_of(const BinLine& line, SortBy by) {
    const auto& facts = line.summary.facts;
    switch (by) {
        case SortBy::weight:
            return facts.linear_density ? facts.linear_density->value.si() : no_figure;
        case SortBy::diameter:
            return facts.diameter ? facts.diameter->value.si() : no_figure;
        case SortBy::density:
            return facts.density ? facts.density->value.si() : no_figure;
        case SortBy::rate:
            return facts.sink_rate ? facts.sink_rate->value.si() : no_figure;
        case SortBy::state:
            return static_cast<double>(line.summary.state) - line.summary.share;
        case SortBy::group:
            return line.group == 0 ? no_figure : static_cast<double>(line.group);
        case SortBy::next:
            return line.summary.next_reading ? static_cast<double>(*line.summary.next_reading)
                                             : no_figure;
        case SortBy::code:
        case SortBy::what:
        case SortBy::notes:
            return 0.0;
    }
    return 0.0;
}

const std::string& text_of(const BinLine& line, SortBy by) {
    if (by == SortBy::what) return line.summary.label.name;
    if (by == SortBy::notes) return line.notes;
    return line.code;
}

bool is_sorted_by_text(SortBy by) {
    return by == SortBy::code || by == SortBy::what || by == SortBy::notes;
}

// Lines with an empty text come last either way.
void sort_by_text(std::vector<std::size_t>& order, const std::vector<BinLine>& lines,
                  const Order& how) {
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
        const auto &left = text_of(lines[a], how.by), &right = text_of(lines[b], how.by);
        if (left.empty() || right.empty()) return !left.empty() && right.empty();
        return how.is_descending ? right < left : left < right;
    });
}

void sort_by_figure(std::vector<std::size_t>& order, const std::vector<BinLine>& lines,
                    const Order& how) {
    std::vector<double> figures(lines.size());
    for (const auto at : order) figures[at] = figure_of(lines[at], how.by);
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
        const double left = figures[a], right = figures[b];
        if (left == no_figure || right == no_figure) return left != no_figure && right == no_figure;
        return how.is_descending ? right < left : left < right;
    });
}

}  // namespace

BinLine line_of(const Coil& coil, const app::CoilSummary* known) {
    BinLine line{.coil = coil.id,
                 .code = coil.code,
                 .notes = coil.notes,
                 .is_known = known != nullptr,
                 .summary = {},
                 .text = {}};
    if (known != nullptr) line.summary = *known;
    line.text = searchable(line);
    return line;
}

std::string searchable(const BinLine& line) {
    std::string words = line.code + '\n' + std::string(app::name_of(line.summary.state)) + '\n' +
                        line.summary.label.name + '\n' + line.notes;
    if (line.summary.next_reading) {
        words += '\n';
        words += name_of(*line.summary.next_reading);
    }
    return lower_ascii(words);
}

Wanted wanted_from(std::string_view typed, std::optional<app::CoilState> state,
                   const Units& units) {
    Wanted wanted;
    wanted.state = state;
    const auto words = pieces(typed, " ");
    for (std::size_t at = 0; at < words.size(); ++at) {
        const bool has_unit = at + 1 < words.size() && is_unit(words[at + 1]);
        const auto unit = has_unit ? words[at + 1] : units.weight_per_length.name;
        if (!take_range(words[at], unit, wanted)) {
            wanted.words.push_back(lower_ascii(words[at]));
        } else if (has_unit) {
            ++at;
        }
    }
    return wanted;
}

std::string with_unit_said(std::string_view typed, const Units& units) {
    const auto words = pieces(typed, " ");
    std::string said;
    for (std::size_t at = 0; at < words.size(); ++at) {
        if (!said.empty()) said += ' ';
        said += words[at];
        Wanted range;
        const bool has_unit = at + 1 < words.size() && is_unit(words[at + 1]);
        // Without a unit of its own it is a range in none.
        if (has_unit || take_range(words[at], {}, range)) continue;
        if (!take_range(words[at], units.weight_per_length.name, range)) continue;
        said += ' ';
        said += units.weight_per_length.name;
    }
    return said;
}

bool fits(const BinLine& line, const Wanted& wanted) {
    if (wanted.state && (!line.is_known || line.summary.state != *wanted.state)) return false;
    if (wanted.from || wanted.to) {
        const auto& weight = line.summary.facts.linear_density;
        if (!weight) return false;
        // A hair of room for the ends, which the typed numbers are but for rounding.
        if (wanted.from && weight->value < *wanted.from * (1.0 - 1e-9)) return false;
        if (wanted.to && weight->value > *wanted.to * (1.0 + 1e-9)) return false;
    }
    return std::ranges::all_of(wanted.words, [&](const std::string& word) {
        return line.text.find(word) != std::string::npos;
    });
}

std::vector<std::size_t> found(const std::vector<BinLine>& lines, const Wanted& wanted,
                               const Order& order) {
    std::vector<std::size_t> places;
    for (std::size_t at = 0; at < lines.size(); ++at) {
        if (fits(lines[at], wanted)) places.push_back(at);
    }
    if (is_sorted_by_text(order.by)) {
        sort_by_text(places, lines, order);
    } else {
        sort_by_figure(places, lines, order);
    }
    return places;
}

std::vector<std::size_t> counted(const std::vector<BinLine>& lines) {
    std::vector<std::size_t> counts(4, 0);
    for (const BinLine& line : lines) {
        if (line.is_known) ++counts[static_cast<std::size_t>(line.summary.state)];
    }
    return counts;
}

}  // namespace coilbook::bench
