#include "app/instruments.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "app/instrument_drawers.h"
#include "base/text.h"
#include "quantity/parse.h"
#include "store/check_repository.h"
#include "store/instrument_repository.h"
#include "store/setting_repository.h"

namespace coilbook::app {
namespace {

std::chrono::days check_interval(Workshop& workshop) {
    const auto setting = workshop.catalogue().settings().get("instrument_check_days");
    if (!setting) return usual_check_interval;
    const auto days = parse_number(*setting);
    if (!days || !(*days >= 1.0 && *days <= 36'500.0)) return usual_check_interval;
    return std::chrono::days{static_cast<int>(*days)};
}

std::string counted(long count, const char* thing) {
    return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

// "in 3 months": the largest unit of which there are two at least.
std::string time_until(Instant due, Instant now) {
    const long days = std::chrono::ceil<std::chrono::days>(due - now).count();
    if (days <= 1) return "tomorrow";
    if (days < 15) return "in " + counted(days, "day");
    if (days < 61) return "in " + counted(days / 7, "week");
    if (days < 731) return "in " + counted(days * 12 / 365, "month");
    return "in " + counted(days / 365, "year");
}

std::string too_much_or_little(const ShownFigure& offset) {
    return std::visit([](auto q) { return q.si() < 0.0; }, offset) ? "too little" : "too much";
}

ShownFigure without_sign(const ShownFigure& offset) {
    return std::visit([](auto q) { return ShownFigure{decltype(q)::from_si(std::abs(q.si()))}; },
                      offset);
}

// "reads 0.25 ± 0.02 gr too much".
std::string reads(const ShownFigure& offset, const ShownFigure& uncertainty,
                  std::string_view unit) {
    return "reads " + span_in_words(without_sign(offset), uncertainty, unit) + " " +
           too_much_or_little(offset);
}

template <class Kind>
InstrumentInWords words_of(const KnownInstrument& known, const Kind& instrument, Instant now,
                           std::string_view unit) {
    const bool has_offset = instrument.offset.si() != 0.0;
    const bool has_limit = instrument.limit_of_error.si() > 0.0;
    const bool was_checked = !known.as_written.empty();
    InstrumentInWords words;
    if (was_checked || has_offset) {
        // Two standard uncertainties are 95 % or so.
        const bool is_off =
            std::abs(instrument.offset.si()) > 2.0 * instrument.offset_uncertainty.si();
        words.reads = is_off ? reads(ShownFigure{instrument.offset},
                                     ShownFigure{instrument.offset_uncertainty}, unit)
                             : "reads right, as far as its check can tell: off by " +
                                   span_in_words(ShownFigure{instrument.offset},
                                                 ShownFigure{instrument.offset_uncertainty}, unit);
    } else if (known.key.code.empty()) {
        words.reads = "never checked: the figures of an ordinary one count";
    } else {
        words.reads = "never checked: its maker's figures count";
    }
    if (known.checked_at) {
        words.checked = "last checked " + day_in_words(*known.checked_at);
        words.checked += known.state == CheckState::again
                             ? ", too long ago: check it again"
                             : "; check again " + time_until(*known.due_at, now);
    }
    words.shows = instrument.resolution.si() > 0.0
                      ? "shows steps of " + span_in_words(ShownFigure{instrument.resolution}, unit)
                      : "shows no steps";
    if (has_limit) {
        words.shows += ", good to ± " + span_in_words(ShownFigure{instrument.limit_of_error}, unit);
    }
    words.scatters = instrument.repeatability.si() > 0.0
                         ? "readings of one thing scatter by " +
                               span_in_words(ShownFigure{instrument.repeatability}, unit)
                         : "readings of one thing scatter by no more than a step";
    if constexpr (std::is_same_v<Kind, Micrometer>) {
        words.on_soft =
            known.on_soft ? fmt::format("on soft coatings {} ({} coils)",
                                        reads(ShownFigure{known.on_soft->offset},
                                              ShownFigure{known.on_soft->offset_uncertainty}, unit),
                                        known.on_soft->coils)
                          : "soft coatings give way by an unknown amount: ± " +
                                span_in_words(ShownFigure{instrument.coating_uncertainty}, unit) +
                                " is reckoned with";
    }
    return words;
}

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

template <class Kind>
std::vector<Cell> list_cells(const KnownInstrument& known, const Kind& instrument) {
    const auto number = [](auto quantity) { return cell_of(std::optional(in_its_unit(quantity))); };
    Cell coating;
    if constexpr (std::is_same_v<Kind, Micrometer>) {
        coating = number(instrument.coating_uncertainty);
    }
    return {std::string(name_of(known.key.kind)),
            cell_of(instrument.code),
            std::string(unit_of(QuantityOf<Kind>{}).name),
            number(instrument.resolution),
            number(instrument.limit_of_error),
            number(instrument.repeatability),
            number(instrument.offset),
            number(instrument.offset_uncertainty),
            coating,
            cell_of(known.checked_at ? to_text(*known.checked_at) : std::string()),
            std::string(name_of(known.state))};
}

}  // namespace

std::string_view name_of(CheckState state) {
    switch (state) {
        case CheckState::never:
            return "never checked";
        case CheckState::counts:
            return "checked";
        case CheckState::again:
            return "check again";
    }
    return {};
}

std::vector<KnownInstrument> known_instruments(Workshop& workshop) {
    auto& catalogue = workshop.catalogue();
    std::vector<KnownInstrument> all;
    const auto instruments = catalogue.instruments().all();
    for_each_kind([&](InstrumentKind kind, auto drawer) {
        for (const auto& [code, instrument] : instruments.*drawer) {
            KnownInstrument known;
            known.key = {kind, code};
            known.instrument = instrument;
            all.push_back(std::move(known));
        }
    });
    const auto find = [&](const InstrumentKey& key) {
        return std::ranges::find(all, key, &KnownInstrument::key);
    };
    for (const auto& check : catalogue.checks().last_checks()) {
        const auto known = std::ranges::find_if(all, [&](const KnownInstrument& each) {
            return name_of(each.key.kind) == check.kind && each.key.code == check.code;
        });
        if (known == all.end()) continue;
        known->checked_at = check.at;
        known->as_written = check.as_written;
    }
    for (const auto& coating : catalogue.checks().last_coatings()) {
        const auto known = find({InstrumentKind::micrometer, coating.code});
        if (known == all.end()) continue;
        known->on_soft = coating.found;
        known->checked_at = std::max(known->checked_at.value_or(coating.at), coating.at);
    }
    const auto interval = check_interval(workshop);
    const Instant now = workshop.surroundings().now();
    for (auto& known : all) {
        if (!known.checked_at) continue;
        known.due_at = *known.checked_at + interval;
        known.state =
            has_run_out(*known.checked_at, now, interval) ? CheckState::again : CheckState::counts;
    }
    return all;
}

InstrumentInWords in_words(const KnownInstrument& known, Instant now, std::string_view unit) {
    if (unit.empty()) unit = units_of(known.key.kind).front();
    return std::visit([&](const auto& each) { return words_of(known, each, now, unit); },
                      known.instrument);
}

std::string unit_shown_by(const KnownInstrument& known) {
    const auto lines = pieces(known.as_written, "\n");
    if (lines.empty()) return {};
    const auto cells = pieces(lines.back(), ",");
    if (cells.empty()) return {};
    const auto reading = trimmed(cells.back());
    for (const auto unit : units_of(known.key.kind)) {
        if (reading.ends_with(unit) &&
            parse_number(trimmed(reading.substr(0, reading.size() - unit.size())))) {
            return std::string(unit);
        }
    }
    return {};
}

std::string_view unit_to_type(InstrumentKind kind, const Units& units) {
    return kind == InstrumentKind::scale ? units.weight.name : units_of(kind).front();
}

std::string unit_to_type(const KnownInstrument& known, const Units& units) {
    const std::string own = unit_shown_by(known);
    return own.empty() ? std::string(unit_to_type(known.key.kind, units)) : own;
}

std::string day_in_words(Instant at) {
    static constexpr std::array months{"January",   "February", "March",    "April",
                                       "May",       "June",     "July",     "August",
                                       "September", "October",  "November", "December"};
    const std::chrono::year_month_day day{std::chrono::floor<std::chrono::days>(at)};
    return fmt::format("{} {} {}", static_cast<unsigned>(day.day()),
                       months[static_cast<unsigned>(day.month()) - 1],
                       static_cast<int>(day.year()));
}

void list_instruments(Workshop& workshop, std::ostream& out, Format format,
                      std::size_t terminal_width) {
    RowWriter writer(out, list_columns(), format, terminal_width);
    for (const auto& known : known_instruments(workshop)) {
        // Verdicts reckon with a micrometer as it is on coatings, so that is what is listed.
        const auto in_use = instrument_of(workshop.instruments(), known.key);
        if (!in_use) continue;
        std::visit([&](const auto& each) { writer.add(list_cells(known, each)); }, *in_use);
    }
    writer.finish("Uncertainties are one standard deviation (k = 1).");
}

}  // namespace coilbook::app
