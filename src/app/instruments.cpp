#include "app/instruments.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <tuple>

#include "base/text.h"
#include "exchange/bench_tables.h"
#include "exchange/csv.h"
#include "exchange/instruments_file.h"
#include "identify/facts.h"
#include "metrology/calibration.h"
#include "metrology/gauge_study.h"
#include "quantity/print.h"
#include "store/check_repository.h"
#include "store/instrument_repository.h"
#include "store/reading_repository.h"
#include "store/setting_repository.h"

namespace coilbook::app {
namespace {

// The unit in which an instrument's figures are told.
NamedUnit<Mass> unit_of(Mass) {
    return {"gr", grain};
}
NamedUnit<Length> unit_of(Length) {
    return {"mm", millimetre};
}
NamedUnit<Duration> unit_of(Duration) {
    return {"s", second};
}
NamedUnit<TemperatureDifference> unit_of(TemperatureDifference) {
    return {"K", TemperatureDifference::from_kelvin(1.0)};
}
template <class Q>
double in_its_unit(Q quantity) {
    return quantity.si() / unit_of(Q{}).size.si();
}
template <class Q>
std::string in_words(Q value, Q uncertainty) {
    return with_uncertainty(in_its_unit(value), in_its_unit(uncertainty)) + " " +
           std::string(unit_of(Q{}).name);
}

// Calls `use(kind's name, member of Instruments)` for each kind of instrument.
template <class Use>
void for_each_kind(Use use) {
    use("scale", &Instruments::scales);
    use("tape", &Instruments::tapes);
    use("micrometer", &Instruments::micrometers);
    use("stopwatch", &Instruments::stopwatches);
    use("thermometer", &Instruments::thermometers);
}

using InstrumentKey = std::pair<std::string, std::string>;  // kind, code

// Checks --------------------------------------------------------------------------------------

struct CheckOf {
    std::vector<const exchange::CheckRow*> rows;
};
using Checks = std::map<InstrumentKey, CheckOf>;

// Which kinds can show a figure like this.
std::vector<std::string> kinds_showing(const exchange::Figure& figure) {
    if (std::holds_alternative<Mass>(figure)) return {"scale"};
    if (std::holds_alternative<Duration>(figure)) return {"stopwatch"};
    if (std::holds_alternative<TemperatureDifference>(figure)) return {"thermometer"};
    return {"tape", "micrometer"};
}

bool has_instrument(const Instruments& instruments, const std::string& kind,
                    const std::string& code) {
    bool found = false;
    for_each_kind([&](const char* name, auto drawer) {
        if (name == kind) found = (instruments.*drawer).contains(code);
    });
    return found;
}

// The kind of instrument that a row is about.
Result<std::string> kind_of(const exchange::CheckRow& row, const Instruments& instruments) {
    auto kinds = kinds_showing(row.standard);
    if (!row.kind.empty()) {
        if (std::ranges::find(kinds, row.kind) == kinds.end()) {
            return problem("kind", coilbook::quoted(row.kind) + " does not show such quantities",
                           listed(kinds));
        }
        kinds = {row.kind};
    }
    std::erase_if(kinds, [&](const auto& kind) {
        return !has_instrument(instruments, kind, row.instrument);
    });
    if (kinds.empty()) {
        return problem("instrument", coilbook::quoted(row.instrument) + " is not in the catalogue",
                       "an instrument that 'coilbook instruments list' shows; 'coilbook "
                       "instruments take-in' puts new ones in");
    }
    if (kinds.size() > 1) {
        return problem("kind", "it may be a tape or a micrometer", "a column 'kind' that says");
    }
    return kinds.front();
}

template <class Q>
std::vector<StandardCheck<Q>> standards_in(const std::vector<const exchange::CheckRow*>& rows) {
    std::vector<StandardCheck<Q>> standards;
    for (const auto* row : rows) {
        const auto stated = std::get<Q>(row->standard);
        const auto uncertainty = std::get<Q>(row->standard_uncertainty);
        auto standard = std::ranges::find_if(standards, [&](const StandardCheck<Q>& each) {
            return each.stated == stated && each.stated_uncertainty == uncertainty;
        });
        if (standard == standards.end()) {
            standards.push_back({stated, uncertainty, {}});
            standard = standards.end() - 1;
        }
        standard->readings.push_back(std::get<Q>(row->reading));
    }
    return standards;
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
std::string meaning(const Calibration<Q>& found) {
    if (!found.one_offset_fits()) {
        std::string words = "one offset does not fit all standards";
        if (found.stretch && found.standards > 2) {
            words += "; its scale is off by " +
                     with_uncertainty(100.0 * found.stretch->part,
                                      100.0 * found.stretch->part_uncertainty) +
                     " %";
        }
        return words + ". Use it near the standards only";
    }
    const bool is_off = std::abs(found.offset.si()) > found.offset_95.si();
    std::string words = is_off ? "it is off, and readings are put right from now on"
                               : "it may be off by nothing; the best guess is taken off all the "
                                 "same, with how sure it is";
    if (found.readings < 3) words += "; read each standard three times or more to be surer";
    if (found.standards == 1) words += "; a second standard would tell if that holds everywhere";
    return words;
}

template <class Q>
std::vector<Cell> check_cells(const InstrumentKey& key, const Calibration<Q>& found,
                              Format format) {
    if (format == Format::table) {
        return {key.first + (key.second.empty() ? "" : " " + key.second),
                in_words(found.offset, found.offset_uncertainty),
                found.repeatability
                    ? cell_of(in_words(*found.repeatability, found.repeatability_uncertainty))
                    : Cell{},
                std::int64_t{found.readings},
                std::int64_t{found.standards},
                meaning(found)};
    }
    const auto number = [](auto quantity) { return cell_of(std::optional(in_its_unit(quantity))); };
    const bool repeats = found.repeatability.has_value();
    return {
        key.first,
        key.second,
        std::string(unit_of(Q{}).name),
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

// One instrument's check: its row, and the instrument and the check put into the catalogue.
template <class Kind, class Q>
Result<std::vector<Cell>> take_check(Workshop& workshop, store::Act& act, const InstrumentKey& key,
                                     const CheckOf& check, const Kind& instrument,
                                     const Instrument<Q>&, Format format) {
    const auto standards = standards_in<Q>(check.rows);
    if (!can_be_weighed<Q>(instrument, standards)) {
        return problem("standard_u", "nothing tells how sure this check is",
                       "the standard's uncertainty, above zero");
    }
    const auto found = calibrate<Q>(instrument, standards);
    auto& catalogue = workshop.catalogue();
    const auto put = catalogue.instruments().put(act, workshop.new_id<store::BenchInstrument>(),
                                                 checked(instrument, found));
    if (!put) return tl::unexpected(put.error());
    std::string words;
    for (const auto* row : check.rows) words += row->as_written + "\n";
    const auto added =
        catalogue.checks().add(act, {workshop.new_id<store::InstrumentCheck>(), key.first,
                                     key.second, workshop.surroundings().now(), words});
    if (!added) return tl::unexpected(added.error());
    return check_cells(key, found, format);
}

// The list ------------------------------------------------------------------------------------

std::vector<Column> list_columns() {
    const auto number = [](const char* name) { return Column{name, true, 3}; };
    return {{"kind"},
            {"instrument"},
            {"unit"},
            number("resolution"),
            number("limit_of_error"),
            number("repeatability"),
            number("offset"),
            number("offset_u"),
            number("coating_u"),
            {"checked_at"},
            {"check"}};
}

template <class Kind, class Q>
std::vector<Cell> list_cells(const std::string& kind, const Kind& instrument, const Instrument<Q>&,
                             const std::string& checked_at, const std::string& check) {
    const auto number = [](auto quantity) { return cell_of(std::optional(in_its_unit(quantity))); };
    Cell coating;
    if constexpr (std::is_same_v<Kind, Micrometer>) {
        coating = number(instrument.coating_uncertainty);
    }
    return {kind,
            cell_of(instrument.code),
            std::string(unit_of(Q{}).name),
            number(instrument.resolution),
            number(instrument.limit_of_error),
            number(instrument.repeatability),
            number(instrument.offset),
            number(instrument.offset_uncertainty),
            coating,
            cell_of(checked_at),
            check};
}

std::chrono::days check_interval(Workshop& workshop) {
    const auto setting = workshop.catalogue().settings().get("instrument_check_days");
    if (!setting) return usual_check_interval;
    const auto days = parse_number(*setting);
    if (!days || !(*days >= 1.0 && *days <= 36'500.0)) return usual_check_interval;
    return std::chrono::days{static_cast<int>(*days)};
}

// A study -------------------------------------------------------------------------------------

template <class Q>
std::string study_in_words(const GaugeStudy<Q>& study) {
    const auto amount = [](Q quantity) {
        return significant(in_its_unit(quantity), 2) + " " + std::string(unit_of(Q{}).name);
    };
    std::string words = "One person who reads the same coil again is off by " +
                        amount(study.repeatability) + " (one standard deviation).\n";
    if (study.people > 1) {
        const bool people_agree = study.reproducibility.si() <= 0.0;
        words += people_agree ? "The people read alike.\n"
                              : "One person differs from another by " +
                                    amount(study.reproducibility) + ".\n";
        if (study.people_by_coil.si() > study.people_differ.si()) {
            words += "They differ on some coils more than on others: see how each holds them.\n";
        }
    }
    if (study.coils < 2) return words;
    if (study.coils_differ.si() <= 0.0) {
        return words + "The coils cannot be told apart by such readings at all.\n";
    }
    if (study.gauge.si() > 0.0) {
        const double groups = study.groups_told_apart();
        words += "The coils differ by " + amount(study.coils_differ) +
                 ": such readings sort them " +
                 (groups < 2.0
                      ? "into no groups at all"
                      : "into some " + std::to_string(static_cast<int>(std::min(groups, 1000.0))) +
                            " groups") +
                 ".\n";
    }
    // Limits: a tenth and three tenths of the whole spread (the industry's manual, from memory).
    const double part = study.part_of_spread();
    if (part < 0.1) return words + "This is good enough: hardly any of the spread is reading.\n";
    if (part < 0.3) return words + "This will do for most coils; read close ones twice.\n";
    return words + "This is not good enough to tell these coils apart: read each coil several\n" +
           "times, or find out why readings differ.\n";
}

template <class Q>
Done write_study(const std::vector<exchange::StudyRow>& rows, const std::string& file_name,
                 std::ostream& out, Format format, std::size_t terminal_width) {
    std::vector<GaugeReading<Q>> readings;
    for (const auto& row : rows) {
        readings.push_back({row.coil, row.person, std::get<Q>(row.reading)});
    }
    const auto study = gauge_study(readings);
    if (!study) {
        return tl::unexpected(std::vector{exchange::in_file(file_name, 0, study.error())});
    }
    RowWriter writer(
        out, {{"part"}, {"standard_deviation", true, 3}, {"unit"}, {"percent_of_spread", true, 3}},
        format, terminal_width);
    const auto add = [&](const char* part, Q sd) {
        const double share = study->total.si() > 0.0 ? sd.si() / study->total.si() : 0.0;
        writer.add({part, cell_of(std::optional(in_its_unit(sd))), std::string(unit_of(Q{}).name),
                    cell_of(std::optional(100.0 * share))});
    };
    add("repeatability", study->repeatability);
    add("people", study->people_differ);
    add("people_by_coil", study->people_by_coil);
    add("gauge", study->gauge);
    add("coils", study->coils_differ);
    add("total", study->total);
    writer.finish(study_in_words(*study));
    return {};
}

}  // namespace

void list_instruments(Workshop& workshop, std::ostream& out, Format format,
                      std::size_t terminal_width) {
    std::map<InstrumentKey, Instant> checked_at;
    for (const auto& check : workshop.catalogue().checks().last_checks()) {
        checked_at.emplace(InstrumentKey{check.kind, check.code}, check.at);
    }
    for (const auto& coating : workshop.catalogue().checks().last_coatings()) {
        auto& at = checked_at.try_emplace({"micrometer", coating.code}, coating.at).first->second;
        at = std::max(at, coating.at);
    }
    const auto interval = check_interval(workshop);
    const Instant now = workshop.surroundings().now();
    RowWriter writer(out, list_columns(), format, terminal_width);
    for_each_kind([&](const char* kind, auto drawer) {
        for (const auto& [code, instrument] : workshop.instruments().*drawer) {
            const auto at = checked_at.find({kind, code});
            const bool was_checked = at != checked_at.end();
            const bool again = was_checked && has_run_out(at->second, now, interval);
            writer.add(list_cells(kind, instrument, instrument,
                                  was_checked ? to_text(at->second) : "",
                                  !was_checked ? "never checked"
                                  : again      ? "check again"
                                               : "checked"));
        }
    });
    writer.finish("Uncertainties are one standard deviation (k = 1).");
}

namespace {

// What was found in a check is not replaced by what a file believes.
std::vector<Problem> against_checks(Workshop& workshop, const Instruments& before,
                                    const Instruments& read, const std::string& file) {
    std::vector<Problem> problems;
    const auto checks = workshop.catalogue().checks().last_checks();
    for_each_kind([&](const char* kind, auto drawer) {
        for (const auto& [code, instrument] : read.*drawer) {
            const auto old = (before.*drawer).find(code);
            if (old == (before.*drawer).end() || old->second == instrument) continue;
            for (const auto& check : checks) {
                if (check.kind != kind || check.code != code) continue;
                problems.push_back(exchange::in_file(
                    file, 0,
                    {code.empty() ? std::string(kind) : code,
                     "its figures come from the check of " + to_text(check.at).substr(0, 10),
                     "a file without that row; or take the check back first, with 'coilbook "
                     "undo'"}));
            }
        }
    });
    return problems;
}

}  // namespace

Done take_in_instruments(Workshop& workshop, const std::filesystem::path& path) {
    const auto before = workshop.catalogue().instruments().all();
    const auto read = exchange::read_instruments(path, before);
    if (!read) return tl::unexpected(read.error());
    if (auto problems = against_checks(workshop, before, *read, path.string()); !problems.empty()) {
        return tl::unexpected(std::move(problems));
    }
    const auto done = workshop.catalogue().act(
        workshop.note("take in the instruments of " + path.filename().string()),
        [&](store::Act& act) -> Result<void> {
            Result<void> result;
            for_each_kind([&](const char*, auto drawer) {
                for (const auto& [code, instrument] : (*read).*drawer) {
                    const auto old = (before.*drawer).find(code);
                    const bool is_same = old != (before.*drawer).end() && old->second == instrument;
                    if (is_same || !result) continue;
                    result = workshop.catalogue().instruments().put(
                        act, workshop.new_id<store::BenchInstrument>(), instrument);
                }
            });
            return result;
        });
    if (!done) return tl::unexpected(std::vector{done.error()});
    workshop.refresh();
    return {};
}

Done check_instruments(Workshop& workshop, std::istream& file, const std::string& file_name,
                       std::ostream& out, Format format, std::size_t terminal_width) {
    const auto rows = exchange::read_checks(file, file_name);
    if (!rows) return tl::unexpected(rows.error());
    // As the catalogue has them, without what was found on coatings.
    const auto instruments = workshop.catalogue().instruments().all();
    std::vector<Problem> problems;
    Checks checks;
    for (const auto& row : *rows) {
        const auto kind = kind_of(row, instruments);
        if (kind) {
            checks[{*kind, row.instrument}].rows.push_back(&row);
        } else {
            problems.push_back(exchange::in_file(file_name, row.line, kind.error()));
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
            Result<void> result;
            for (const auto& [key, check] : checks) {
                for_each_kind([&](const char* kind, auto drawer) {
                    if (key.first != kind || !result) return;
                    const auto& instrument = (instruments.*drawer).at(key.second);
                    auto row =
                        take_check(workshop, act, key, check, instrument, instrument, format);
                    if (row) {
                        cells.push_back(std::move(*row));
                    } else {
                        result = tl::unexpected(
                            exchange::in_file(file_name, check.rows.front()->line, row.error()));
                    }
                });
            }
            return result;
        });
    if (!done) return tl::unexpected(std::vector{done.error()});
    workshop.refresh();
    RowWriter writer(out, format == Format::table ? check_summary_columns() : check_columns(),
                     format, terminal_width);
    for (const auto& row : cells) writer.add(row);
    writer.finish("± is one standard deviation (k = 1).");
    return {};
}

Result<std::string> check_on_coatings(Workshop& workshop, const std::string& code) {
    const auto instruments = workshop.catalogue().instruments().all();
    const auto micrometer = micrometer_of(instruments, code);
    if (!micrometer) return tl::unexpected(micrometer.error());
    std::vector<CoatingCheck> coils;
    for (const auto& entry : workshop.catalogue().readings().bin()) {
        auto readings = entry.readings;
        if (readings.diameters.empty() || readings.micrometer != code) continue;
        if (readings.taper == Taper::tapered) continue;  // a diameter is not the mean of the coil
        const Length shown = mean_diameter(readings).mean;
        const double count = static_cast<double>(readings.diameters.size());
        const Length own = own_uncertainty(*micrometer) / std::sqrt(count);
        readings.diameters.clear();
        readings.sink_time.reset();  // a timed drop leans on the drag law
        if (!readings.submerged_weight) continue;
        const auto evidence = evidence_of(readings, workshop.instruments());
        if (!evidence) continue;
        const auto fit = fit_facts(*evidence, fresh_water_at_10_C());
        if (!fit.facts.diameter || fit.contradictory) continue;
        coils.push_back({*fit.facts.diameter, {shown, own}});
    }
    if (coils.size() < 3) {
        return problem("micrometer",
                       std::to_string(coils.size()) +
                           " coils were read with it and weighed in air "
                           "and under water",
                       "three such coils or more, not tapered");
    }
    const auto found = coating_offset(coils);
    const auto done = workshop.catalogue().act(
        workshop.note("try " +
                      (code.empty() ? std::string("the micrometer") : "micrometer " + code) +
                      " on coatings"),
        [&](store::Act& act) -> Result<void> {
            const auto put = workshop.catalogue().instruments().put(
                act, workshop.new_id<store::BenchInstrument>(), *micrometer);
            if (!put) return put;
            workshop.catalogue().checks().add(act, {workshop.new_id<store::CoatingRecord>(), code,
                                                    workshop.surroundings().now(), found});
            return {};
        });
    if (!done) return tl::unexpected(done.error());
    workshop.refresh();
    const bool is_low = found.offset.si() < 0.0;
    const Length size = is_low ? -found.offset : found.offset;
    return "On the coatings of " + std::to_string(found.coils) + " coils it reads too " +
           (is_low ? "low" : "high") + " by " + in_words(size, found.offset_uncertainty) +
           ", and coils differ by " + significant(found.spread.in(millimetre), 2) +
           " mm. Diameters are put right from now on.";
}

Done study_readings(std::istream& file, const std::string& file_name, std::ostream& out,
                    Format format, std::size_t terminal_width) {
    const auto rows = exchange::read_study(file, file_name);
    if (!rows) return tl::unexpected(rows.error());
    if (rows->empty()) {
        return tl::unexpected(std::vector{exchange::in_file(
            file_name, 0, {"reading", "there are no readings", "a row for each reading"})});
    }
    const auto& first = rows->front().reading;
    if (std::holds_alternative<Mass>(first)) {
        return write_study<Mass>(*rows, file_name, out, format, terminal_width);
    }
    if (std::holds_alternative<Length>(first)) {
        return write_study<Length>(*rows, file_name, out, format, terminal_width);
    }
    if (std::holds_alternative<Duration>(first)) {
        return write_study<Duration>(*rows, file_name, out, format, terminal_width);
    }
    return tl::unexpected(std::vector{exchange::in_file(
        file_name, rows->front().line,
        {"reading", "coils have no temperature to study", "weights, lengths or times"})});
}

}  // namespace coilbook::app
