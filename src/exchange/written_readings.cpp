#include "exchange/written_readings.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "base/text.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::exchange {
namespace {

constexpr std::string_view between = " \t|";  // what separates diameters

// Whether `text` by itself, with no column to help, reads as exactly `value`.
bool says(std::string_view text, ReadingField field, const ReadingValue& value, char mark) {
    const auto values = read_values(field, text, {mark, {}});
    return values && values->size() == 1 && values->front() == value;
}

// `words`, if need be with one of `units` behind, so that it says `value` by itself.
std::optional<std::string> complete(std::string_view words, const std::vector<std::string>& units,
                                    ReadingField field, const ReadingValue& value, char mark) {
    if (says(words, field, value, mark)) return std::string(words);
    for (const auto& unit : units) {
        auto text = std::string(words) + " " + unit;
        if (says(text, field, value, mark)) return text;
    }
    return std::nullopt;
}

// The units that a bare number in the cell may have taken: those written in it, and the column's.
std::vector<std::string> units_around(std::string_view cell, std::string_view column_unit) {
    std::vector<std::string> units;
    const auto add = [&](std::string_view unit) {
        if (!unit.empty() && std::ranges::find(units, unit) == units.end()) {
            units.emplace_back(unit);
        }
    };
    for (const auto piece : pieces(cell, between)) {
        const auto digits = piece.find_last_of("0123456789.,");
        add(digits == std::string_view::npos ? piece : piece.substr(digits + 1));
    }
    add(column_unit);
    return units;
}

// The ends of the first few pieces of `text`, the last one first. The longest words of a diameter
// are no more than these eight pieces: "0 ft 1 1/32 in +- 1/64 in".
std::vector<std::size_t> piece_ends(std::string_view text) {
    std::vector<std::size_t> ends;
    std::size_t at = 0;
    while (at < text.size() && ends.size() < 8) {
        const auto end = std::min(text.find_first_of(between, at), text.size());
        ends.push_back(end);
        at = std::min(text.find_first_not_of(between, end), text.size());
    }
    std::ranges::reverse(ends);
    return ends;
}

// Words for what shares its own with others in a way that is not foreseen here: in the usual unit,
// or else in metres, which say every value again to the last digit.
std::string own_words(const Stated<Length>& diameter) {
    const auto in = [&](Length unit, const std::string& name) {
        auto words = exact(diameter.value.in(unit)) + " " + name;
        if (!diameter.uncertainty) return words;
        return words + " +- " + exact(diameter.uncertainty->in(unit)) + " " + name;
    };
    const auto usual = in(millimetre, "mm");
    return says(usual, ReadingField::diameters, diameter, '.') ? usual : in(metre, "m");
}

// Cuts the words of one diameter off the front of `rest`: as many pieces as say its value alone.
std::string take_words(std::string_view& rest, const std::vector<std::string>& units,
                       const ReadingValue& value, char mark) {
    rest.remove_prefix(std::min(rest.find_first_not_of(between), rest.size()));
    for (const auto end : piece_ends(rest)) {
        if (auto words =
                complete(rest.substr(0, end), units, ReadingField::diameters, value, mark)) {
            rest.remove_prefix(end);
            return *words;
        }
    }
    return own_words(std::get<Stated<Length>>(value));
}

}  // namespace

Result<std::vector<RawReading>> written_readings(ReadingField field, std::string_view cell,
                                                 NumberStyle style) {
    if (cell.size() > longest_written_reading) {
        return problem(std::string(name_of(field)),
                       coilbook::quoted(cell) + " is too long for a reading",
                       "at most " + std::to_string(longest_written_reading) + " bytes");
    }
    const auto values = read_values(field, cell, style);
    if (!values) return tl::unexpected(values.error());
    const auto units = units_around(cell, style.column_unit);
    std::vector<RawReading> readings;
    auto rest = trimmed(cell);
    for (const auto& value : *values) {
        auto words = field == ReadingField::diameters
                         ? take_words(rest, units, value, style.decimal_mark)
                         : complete(rest, units, field, value, style.decimal_mark)
                               .value_or(std::string(rest));
        readings.push_back({field, std::move(words), value});
    }
    return readings;
}

}  // namespace coilbook::exchange
