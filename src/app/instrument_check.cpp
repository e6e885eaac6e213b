#include "app/instrument_check.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "app/instrument_drawers.h"
#include "base/text.h"
#include "exchange/bench_tables.h"
#include "exchange/csv.h"
#include "metrology/repeats.h"
#include "quantity/parse.h"
#include "quantity/print.h"
#include "store/check_repository.h"
#include "store/instrument_repository.h"

namespace coilbook::app {
namespace {

template <class Q>
std::vector<StandardCheck<Q>> typed(std::span<const StandardRead> standards) {
    std::vector<StandardCheck<Q>> checks;
    for (const auto& standard : standards) {
        checks.push_back(
            {std::get<Q>(standard.stated), std::get<Q>(standard.stated_uncertainty), {}});
        for (const auto& reading : standard.readings) {
            checks.back().readings.push_back(std::get<Q>(reading));
        }
    }
    return checks;
}

// Whether there is anything to weigh: an exact standard and a display without steps that always
// show the same leave nothing.
template <class Q>
bool can_be_weighed(const Instrument<Q>& instrument,
                    const std::vector<StandardCheck<Q>>& standards) {
    return std::ranges::all_of(standards, [&](const StandardCheck<Q>& standard) {
        return instrument.resolution.si() > 0.0 || instrument.repeatability.si() > 0.0 ||
               standard.stated_uncertainty.si() > 0.0;
    });
}

// Puts a reading to the standard that it is of, or begins a new one. `as_written` has all three.
void put_reading(std::vector<StandardRead>& standards, const ShownFigure& stated,
                 const ShownFigure& uncertainty, const ShownFigure& reading,
                 const std::string& as_written) {
    auto standard = std::ranges::find_if(standards, [&](const StandardRead& each) {
        return each.stated == stated && each.stated_uncertainty == uncertainty;
    });
    const auto comma = as_written.rfind(',');
    if (standard == standards.end()) {
        standards.push_back({stated, uncertainty, as_written.substr(0, comma), {}, {}});
        standard = standards.end() - 1;
    }
    standard->readings.push_back(reading);
    standard->as_written.push_back(as_written.substr(comma + 1));
}

// A line for each reading.
std::string lines_of(std::span<const StandardRead> standards) {
    std::string lines;
    for (const auto& standard : standards) {
        for (const auto& reading : standard.as_written) {
            lines += standard.written + "," + reading + "\n";
        }
    }
    return lines;
}

// What was typed, with the unit where there is none.
std::string with_unit(std::string_view text, std::string_view unit) {
    const bool is_bare = parse_number(trimmed(text)).has_value();
    return std::string(trimmed(text)) + (is_bare ? " " + std::string(unit) : "");
}

// The instrument with what was found, and the check itself, put into the catalogue.
Result<AnyCalibration> keep_check(Workshop& workshop, store::Act& act, const InstrumentKey& key,
                                  const AnyInstrument& instrument,
                                  std::span<const StandardRead> standards,
                                  const std::string& lines) {
    const auto found = judge_check(instrument, standards);
    if (!found) return found;
    auto& catalogue = workshop.catalogue();
    const auto put = std::visit(
        [&]<class Kind>(const Kind& each) {
            using Q = QuantityOf<Kind>;
            return catalogue.instruments().put(act, workshop.new_id<store::BenchInstrument>(),
                                               checked(each, std::get<Calibration<Q>>(*found)));
        },
        instrument);
    if (!put) return tl::unexpected(put.error());
    const auto added = catalogue.checks().add(
        act, {workshop.new_id<store::InstrumentCheck>(), std::string(name_of(key.kind)), key.code,
              workshop.surroundings().now(), lines});
    if (!added) return tl::unexpected(added.error());
    return found;
}

// In words ------------------------------------------------------------------------------------

// "its scale is off by 0.200 ± 0.003 %"
template <class Q>
std::string stretch_words(const Stretch<Q>& stretch) {
    return with_uncertainty(100.0 * std::abs(stretch.part), 100.0 * stretch.part_uncertainty) +
           " %";
}

template <class Q>
bool is_off(const Calibration<Q>& found) {
    return std::abs(found.offset.si()) > found.offset_95.si();
}

// With fewer standards a line through them is no evidence of itself.
constexpr int least_to_tell_stretch = 3;

template <class Q>
std::string meaning(const Calibration<Q>& found) {
    if (!found.one_offset_fits()) {
        std::string words = "one offset does not fit all standards";
        if (found.stretch && found.standards >= least_to_tell_stretch) {
            words += "; its scale is off by " +
                     with_uncertainty(100.0 * found.stretch->part,
                                      100.0 * found.stretch->part_uncertainty) +
                     " %";
        }
        return words + ". Use it near the standards only";
    }
    std::string words = is_off(found)
                            ? "it is off, and readings are put right from now on"
                            : "it may be off by nothing; the best guess is taken off all the "
                              "same, with how sure it is";
    if (found.readings < 3) words += "; read each standard three times or more to be surer";
    if (found.standards == 1) words += "; a second standard would tell if that holds everywhere";
    return words;
}

template <class Kind, class Q>
CheckInWords words_of(const Kind& instrument, const Calibration<Q>& found, std::string_view unit) {
    CheckInWords words;
    words.is_off = is_off(found);
    words.fits = found.one_offset_fits();
    words.tells_fit = found.standards > 1;
    const bool is_low = found.offset.si() < 0.0;
    const ShownFigure size{Q::from_si(std::abs(found.offset.si()))};
    const auto offset = span_in_words(size, ShownFigure{found.offset_uncertainty}, unit);
    words.offset = words.is_off
                       ? "It reads " + offset + (is_low ? " too little." : " too much.")
                       : "It may be off by nothing: " + offset +
                             (is_low ? " too little" : " too much") + " is the best guess.";
    if (found.repeatability) {
        words.scatter = "Readings of one thing scatter by " +
                        (found.repeatability->si() > 0.0
                             ? span_in_words(ShownFigure{*found.repeatability},
                                             ShownFigure{found.repeatability_uncertainty}, unit)
                             : std::string("less than a step")) +
                        ".";
    }
    const auto count = std::to_string(found.standards);
    if (found.standards == 1) {
        words.fit = "One standard only tells of loads like it.";
    } else if (words.fits) {
        words.fit = found.standards == 2 ? "One offset fits both standards."
                                         : "One offset fits all " + count + " standards.";
    } else if (found.stretch && found.standards >= least_to_tell_stretch) {
        words.fit = "One offset does not fit: the scale is stretched, it reads " +
                    stretch_words(*found.stretch) +
                    (found.stretch->part < 0.0 ? " too little" : " too much") +
                    " the further up, the more. Use it near the standards only.";
    } else {
        words.fit =
            "One offset does not fit both standards. A third one tells whether the scale "
            "is stretched, or a standard is not what it says.";
    }

    const Kind after = checked(instrument, found);
    words.from_now = "Once saved, " + span_in_words(size, unit) + " is " +
                     (is_low ? "added to" : "taken off") + " every reading";
    if (after.limit_of_error.si() > 0.0) {
        words.from_now += ", and ± " + span_in_words(ShownFigure{after.limit_of_error}, unit) +
                          " of its maker still counts for the rest of the range";
    } else if (instrument.limit_of_error.si() > 0.0) {
        words.from_now += ", and its maker's ± " +
                          span_in_words(ShownFigure{instrument.limit_of_error}, unit) +
                          " counts no more: it was measured";
    }
    words.from_now += ".";

    if (found.standards == 1) words.surer = "A second standard tells if that holds everywhere.";
    if (found.readings < 3 * found.standards) {
        words.surer += (words.surer.empty() ? "" : " ") +
                       std::string("Read each standard three times or more to be surer.");
    }
    return words;
}

// The table ------------------------------------------------------------------------------------

// Which kinds can show a figure like this.
std::vector<std::string> kinds_showing(const ShownFigure& figure) {
    if (std::holds_alternative<Mass>(figure)) return {"scale"};
    if (std::holds_alternative<Duration>(figure)) return {"stopwatch"};
    if (std::holds_alternative<TemperatureDifference>(figure)) return {"thermometer"};
    return {"tape", "micrometer"};
}

InstrumentKey key_of(std::string_view kind, const std::string& code) {
    const auto found = std::ranges::find_if(
        all_instrument_kinds, [&](InstrumentKind each) { return name_of(each) == kind; });
    return {*found, code};
}

// The instrument that a row is about.
Result<InstrumentKey> instrument_of_row(const exchange::CheckRow& row,
                                        const Instruments& instruments) {
    auto kinds = kinds_showing(row.standard);
    if (!row.kind.empty()) {
        if (std::ranges::find(kinds, row.kind) == kinds.end()) {
            return problem("kind", coilbook::quoted(row.kind) + " does not show such quantities",
                           listed(kinds));
        }
        kinds = {row.kind};
    }
    std::erase_if(kinds, [&](const auto& kind) {
        return !instrument_of(instruments, key_of(kind, row.instrument)).has_value();
    });
    if (kinds.empty()) {
        return problem("instrument", coilbook::quoted(row.instrument) + " is not in the catalogue",
                       "an instrument that 'coilbook instruments list' shows; 'coilbook "
                       "instruments take-in' puts new ones in");
    }
    if (kinds.size() > 1) {
        return problem("kind", "it may be a tape or a micrometer", "a column 'kind' that says");
    }
    return key_of(kinds.front(), row.instrument);
}

std::vector<Column> check_columns() {
    const auto number = [](const char* name) { return Column{name, true, 3}; };
    return {{"kind"},
            {"instrument"},
            {"unit"},
            number("standards"),
            number("readings"),
            number("offset"),
            number("offset_u"),
            number("offset_95"),
            number("repeatability"),
            number("repeatability_u"),
            number("chi_square"),
            number("chance"),
            number("stretch_percent"),
            number("stretch_percent_u")};
}
std::vector<Column> check_summary_columns() {
    return {{"instrument"},     {"reads too high by"}, {"scatters by"},
            {"readings", true}, {"standards", true},   {"what it means"}};
}

template <class Q>
std::vector<Cell> check_cells(const InstrumentKey& key, const Calibration<Q>& found,
                              Format format) {
    const auto unit = unit_of(Q{}).name;
    const auto words = [&](Q value, Q uncertainty) {
        return with_uncertainty(in_its_unit(value), in_its_unit(uncertainty)) + " " +
               std::string(unit);
    };
    if (format == Format::table) {
        return {in_words(key),
                words(found.offset, found.offset_uncertainty),
                found.repeatability
                    ? cell_of(words(*found.repeatability, found.repeatability_uncertainty))
                    : Cell{},
                std::int64_t{found.readings},
                std::int64_t{found.standards},
                meaning(found)};
    }
    const auto number = [](auto quantity) { return cell_of(std::optional(in_its_unit(quantity))); };
    const bool repeats = found.repeatability.has_value();
    return {
        std::string(name_of(key.kind)),
        key.code,
        std::string(unit),
        std::int64_t{found.standards},
        std::int64_t{found.readings},
        number(found.offset),
        number(found.offset_uncertainty),
        number(found.offset_95),
        repeats ? number(*found.repeatability) : Cell{},
        repeats ? number(found.repeatability_uncertainty) : Cell{},
        cell_of(std::optional(found.chi_square)),
        cell_of(std::optional(found.chance)),
        found.stretch ? cell_of(std::optional(100.0 * found.stretch->part)) : Cell{},
        found.stretch ? cell_of(std::optional(100.0 * found.stretch->part_uncertainty)) : Cell{}};
}

}  // namespace

ShownFigure standard_uncertainty(const ShownFigure& stated, StatedAs as) {
    const double divisor = as == StatedAs::tolerance  ? std::numbers::sqrt3
                           : as == StatedAs::expanded ? 2.0
                                                      : 1.0;
    return std::visit(
        [&](auto quantity) {
            return ShownFigure{decltype(quantity)::from_si(quantity.si() / divisor)};
        },
        stated);
}

Result<StandardRead> standard_of(InstrumentKind kind, std::string_view stated,
                                 std::string_view sure_to, StatedAs as, std::string_view unit) {
    const auto of_field = [](const char* field, Problem wrong) {
        wrong.field = field;
        return tl::unexpected(std::move(wrong));
    };
    const auto value = reading_from(kind, stated, unit);
    if (!value) return of_field("standard", value.error());
    const auto sure = span_from(kind, sure_to, unit);
    if (!sure) return of_field("standard_u", sure.error());
    const auto uncertainty = standard_uncertainty(*sure, as);
    // The conversion is written out to six figures, which is far more than anybody knows.
    const auto written =
        as == StatedAs::standard_uncertainty
            ? with_unit(sure_to, unit)
            : significant(number_of_span(uncertainty, unit), 6) + " " + std::string(unit);
    return StandardRead{*value, uncertainty, with_unit(stated, unit) + "," + written, {}, {}};
}

Result<void> add_reading(StandardRead& standard, InstrumentKind kind, std::string_view text,
                         std::string_view unit) {
    const auto reading = reading_from(kind, text, unit);
    if (!reading) {
        auto wrong = reading.error();
        wrong.field = "reading";
        return tl::unexpected(std::move(wrong));
    }
    standard.readings.push_back(*reading);
    standard.as_written.push_back(with_unit(text, unit));
    return {};
}

Result<AnyCalibration> judge_check(const AnyInstrument& instrument,
                                   std::span<const StandardRead> standards) {
    return std::visit(
        [&]<class Kind>(const Kind& each) -> Result<AnyCalibration> {
            using Q = QuantityOf<Kind>;
            const auto checks = typed<Q>(standards);
            if (!can_be_weighed<Q>(each, checks)) {
                return problem("standard_u", "nothing tells how sure this check is",
                               "the standard's uncertainty, above zero");
            }
            return AnyCalibration{calibrate<Q>(each, checks)};
        },
        instrument);
}

CheckInWords in_words(const AnyInstrument& instrument, const AnyCalibration& found,
                      std::string_view unit) {
    return std::visit(
        [&]<class Kind>(const Kind& each) {
            return words_of(each, std::get<Calibration<QuantityOf<Kind>>>(found), unit);
        },
        instrument);
}

RepeatsInWords repeats_in_words(const AnyInstrument& instrument,
                                std::span<const ShownFigure> readings, std::string_view unit) {
    if (readings.empty()) return {};
    return std::visit(
        [&]<class Kind>(const Kind& each) {
            using Q = QuantityOf<Kind>;
            std::vector<Q> values;
            for (const auto& reading : readings) values.push_back(std::get<Q>(reading));
            const auto found = repeats_of<Q>(each, values);
            RepeatsInWords words;
            words.is_odd = found.is_odd;
            // The mean to one place more than the display shows.
            const double step = number_of_span(ShownFigure{each.resolution}, unit);
            const double mean = number_of_reading(ShownFigure{found.mean}, unit);
            const double sure = step > 0.0 ? step / std::sqrt(static_cast<double>(values.size()))
                                : found.scatter ? number_of_span(ShownFigure{*found.scatter}, unit)
                                                : 0.0;
            const auto figures = with_uncertainty(mean, sure);
            words.mean = figures.substr(0, figures.find(" ±")) + " " + std::string(unit);
            if (found.scatter) words.scatter = span_in_words(ShownFigure{*found.scatter}, unit);
            return words;
        },
        instrument);
}

Result<AnyCalibration> check_instrument(Workshop& workshop, const InstrumentKey& key,
                                        std::span<const StandardRead> standards) {
    // As the catalogue has it, without what was found on coatings.
    const auto instrument = instrument_of(workshop.catalogue().instruments().all(), key);
    if (!instrument) return tl::unexpected(instrument.error());
    auto found =
        workshop.catalogue().act(workshop.note("check " + in_words(key)), [&](store::Act& act) {
            return keep_check(workshop, act, key, *instrument, standards, lines_of(standards));
        });
    if (found) workshop.refresh();
    return found;
}

std::vector<StandardRead> standards_kept(InstrumentKind kind, std::string_view as_written) {
    std::vector<StandardRead> standards;
    for (const auto line : pieces(as_written, "\n")) {
        const auto cells = pieces(line, ",");
        if (cells.size() != 3) continue;
        const auto stated = reading_from(kind, cells[0], {});
        const auto uncertainty = span_from(kind, cells[1], {});
        const auto reading = reading_from(kind, cells[2], {});
        if (!stated || !uncertainty || !reading) continue;
        put_reading(standards, *stated, *uncertainty, *reading, std::string(line));
    }
    return standards;
}

Done check_instruments(Workshop& workshop, std::istream& file, const std::string& file_name,
                       std::ostream& out, Format format, std::size_t terminal_width) {
    const auto rows = exchange::read_checks(file, file_name);
    if (!rows) return tl::unexpected(rows.error());
    const auto instruments = workshop.catalogue().instruments().all();
    struct Check {
        std::size_t line = 0;  // of its first row
        std::vector<StandardRead> standards;
        std::string lines;  // in the order of the file
    };
    std::vector<Problem> problems;
    std::map<InstrumentKey, Check> checks;
    for (const auto& row : *rows) {
        const auto key = instrument_of_row(row, instruments);
        if (key) {
            auto& check = checks.try_emplace(*key, Check{row.line, {}, {}}).first->second;
            put_reading(check.standards, row.standard, row.standard_uncertainty, row.reading,
                        row.as_written);
            check.lines += row.as_written + "\n";
        } else {
            problems.push_back(exchange::in_file(file_name, row.line, key.error()));
        }
    }
    if (rows->empty()) {
        problems.push_back(exchange::in_file(
            file_name, 0, {"reading", "there are no readings", "a row for each reading"}));
    }
    if (!problems.empty()) return tl::unexpected(std::move(problems));

    std::vector<std::vector<Cell>> cells;
    const auto done = workshop.catalogue().act(
        workshop.note("check instruments with " + file_name), [&](store::Act& act) -> Result<void> {
            for (const auto& [key, check] : checks) {
                const auto instrument = instrument_of(instruments, key);
                const auto found = instrument ? keep_check(workshop, act, key, *instrument,
                                                           check.standards, check.lines)
                                              : tl::unexpected(instrument.error());
                if (!found) {
                    return tl::unexpected(exchange::in_file(file_name, check.line, found.error()));
                }
                std::visit(
                    [&](const auto& each) { cells.push_back(check_cells(key, each, format)); },
                    *found);
            }
            return {};
        });
    if (!done) return tl::unexpected(std::vector{done.error()});
    workshop.refresh();
    RowWriter writer(out, format == Format::table ? check_summary_columns() : check_columns(),
                     format, terminal_width);
    for (const auto& row : cells) writer.add(row);
    writer.finish("± is one standard deviation (k = 1).");
    return {};
}

}  // namespace coilbook::app
