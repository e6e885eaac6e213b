#include "bench/pages/coil/coil_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "app/custody.h"
#include "app/verdict_rows.h"
#include "base/text.h"
#include "bench/number_words.h"
#include "bench/widgets/even_axis.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::coil_page {
namespace {

std::string day_of(Instant at) {
    return to_text(at).substr(0, 10);
}

// "guide: thick end", or as much of it as there is.
std::string by_and_note(const std::string& by, const std::string& note) {
    if (by.empty()) return note;
    return note.empty() ? by : by + ": " + note;
}
std::string joined(const std::string& first, const std::string& rest) {
    return rest.empty() ? first : first + ", " + rest;
}

std::string balance_words(const app::CoilBalance& balance) {
    if (!balance.unknown.empty()) return "Balances on: " + balance.unknown + ".";
    std::vector<std::string> sizes;
    for (const auto size : balance.sizes) sizes.push_back(name_of(size));
    auto words =
        fmt::format("Balances on line size{} {}", sizes.size() == 1 ? "" : "s", listed(sizes));
    if (!balance.rigs.empty()) {
        words +=
            fmt::format("; rig{} {}", balance.rigs.size() == 1 ? "" : "s", listed(balance.rigs));
    }
    return words + ".";
}

std::string gist_of(const CoilAtHand& coil) {
    std::string words;
    for (const std::size_t at : {std::size_t{0}, std::size_t{3}}) {
        if (at >= coil.facts.size() || coil.facts[at].value.empty()) continue;
        if (!words.empty()) words += ", ";
        if (at == 3) words += coil.facts[at].name.starts_with("Rises") ? "rises " : "sinks ";
        words += coil.facts[at].value;
    }
    return words;
}

WhoView who_view(const CoilAtHand& coil, const Units& units) {
    constexpr std::size_t most_steps = 3;
    WhoView who{.code = coil.coil.code,
                .state = state_sign(coil.state),
                .verdict = coil.label.name,
                .certainty = coil.label.amount,
                .certainty_help = help_on(Number::certainty, units),
                .gist = gist_of(coil),
                .doubt = coil.doubt,
                .place = coil.place.now,
                .dispute = {},
                .steps = {},
                .balance = balance_words(coil.balance),
                .is_balance_known = coil.balance.unknown.empty()};
    if (who.verdict.empty()) who.verdict = "Nothing read yet";
    if (coil.state == app::CoilState::confirmed) who.certainty = "by your word";
    if (coil.place.is_disputed) {
        who.dispute = "Two copies handed it over apart: say where it is.";
    }
    for (const auto& step : coil.place.steps) {
        if (who.steps.size() == most_steps) {
            who.steps.push_back(
                fmt::format("and {} earlier", coil.place.steps.size() - most_steps));
            break;
        }
        who.steps.push_back(
            joined(app::minute_of(step.at) + "  " + step.place, by_and_note(step.by, step.note)));
    }
    return who;
}

SourceView source_view(const app::FactSource& fact) {
    SourceView source;
    source.title = fact.name + ": where it comes from";
    source.lacks = fact.lacks;
    source.formula = fact.formula;
    source.basis = fact.basis;
    for (const auto& each : fact.readings) {
        source.readings.push_back({each.what, each.as_written, each.instrument});
    }
    for (const auto& part : fact.budget) {
        source.budget.push_back({part.origin, app::percent(part.share), part.share});
    }
    if (!source.budget.empty()) source.budget_title = "Its uncertainty (variance) is due to";
    return source;
}

SinkView sink_view(const std::vector<app::SinkInWater>& course, const Units& units) {
    const auto unit = units.sink_rate;
    const auto rate_words = [&](const Measured<Speed>& rate) {
        return number_with_uncertainty(rate.value, rate.uncertainty, unit);
    };
    SinkView sink;
    auto& plot = sink.plot;
    plot.x = {0.0, 25.0, Spacing::even};
    plot.y = even_axis_round({});
    plot.x_label = "Water temperature, °C";
    plot.y_label = fmt::format("Sink rate, {}", unit.name);
    plot.y_unit = unit.name;
    plot.empty = std::string(units.weight_per_length_name) + " and diameter tell how it sinks";
    sink.note = "Level, in still water; sea water of salinity 35. ± is one standard deviation.";
    sink.heads = {"water", fmt::format("fresh, {}", unit.name), fmt::format("sea, {}", unit.name)};
    sink.help = help_on(Number::sink_by_water, units);
    if (course.empty()) return sink;
    plot.legend = {{.series = 0, .name = "fresh water", .sign = PlotLegend::Sign::course},
                   {.series = 1,
                    .stroke = Stroke::dashed,
                    .name = "sea water",
                    .sign = PlotLegend::Sign::course},
                   {.name = "± one std. dev.", .sign = PlotLegend::Sign::band}};
    PlotCourse fresh{{}, 0, Stroke::solid}, sea{{}, 1, Stroke::dashed};
    std::vector<double> ends;
    for (const auto& each : course) {
        const double celsius = std::round(each.temperature.celsius());
        const auto fresh_words = rate_words(each.fresh), sea_words = rate_words(each.sea);
        const auto degrees = fmt::format("{:.0f}", celsius);
        const auto readout = fmt::format("{} °C\nfresh {} {}\nsea {} {}", degrees, fresh_words,
                                         unit.name, sea_words, unit.name);
        fresh.points.push_back({celsius, each.fresh.value.in(unit.size),
                                each.fresh.uncertainty.in(unit.size), readout});
        sea.points.push_back(
            {celsius, each.sea.value.in(unit.size), each.sea.uncertainty.in(unit.size), readout});
        for (const auto& point : {fresh.points.back(), sea.points.back()}) {
            ends.push_back(point.y - point.sure);
            ends.push_back(point.y + point.sure);
        }
        if (std::fmod(celsius, 5.0) == 0.0) {
            sink.rows.push_back({degrees + " °C", fresh_words, sea_words});
        }
    }
    plot.courses = {std::move(fresh), std::move(sea)};
    plot.y = even_axis_round(ends);
    return sink;
}

CareView care_view(const Form& form, const CoilAtHand& coil) {
    CareView care;
    const auto words = [](const Condition& each) {
        return joined(day_of(each.at), by_and_note(each.by, each.note));
    };
    for (const auto& each : coil.conditions_now) {
        const std::string name(name_of(each.what));
        care.now.push_back({each.what, name, words(each), "good again " + name});
        if (each.what == Wear::worn_through) {
            care.caution = "A core that is worn can part under load. Do not cast it.";
        }
    }
    if (care.now.empty()) care.nothing = "Nothing is wrong with it, as far as noted.";
    for (auto each = coil.all_conditions.rbegin(); each != coil.all_conditions.rend(); ++each) {
        const bool stands = std::ranges::any_of(
            coil.conditions_now, [&](const Condition& now) { return now.id == each->id; });
        if (stands) continue;
        care.before.push_back(fmt::format("{}{}  {}", name_of(each->what),
                                          each->is_found ? "" : " good again", words(*each)));
    }
    if (const auto meant = condition_typed(form.condition)) care.meant = name_of(*meant);
    return care;
}

PhotoView photo_view(const Form& form, const CoilAtHand& coil) {
    PhotoView view;
    if (coil.photographs.empty()) {
        view.nothing = "Drop a photograph on the window, PNG or JPEG.";
        return view;
    }
    const auto at = shown_photograph(form, coil);
    const auto& photograph = coil.photographs[at];
    view.photo = coil.photo;
    view.nothing = coil.photo_trouble;
    view.has_more = coil.photographs.size() > 1;
    const auto count =
        view.has_more ? fmt::format("{} of {}, ", at + 1, coil.photographs.size()) : std::string();
    view.caption =
        count + joined(day_of(photograph.at), by_and_note(photograph.by, photograph.note));
    return view;
}

}  // namespace

std::size_t shown_photograph(const Form& form, const CoilAtHand& coil) {
    return coil.photographs.empty() ? 0 : std::min(form.photo, coil.photographs.size() - 1);
}

View view_of(const Form& form, const Situation& situation) {
    View view;
    view.failure = situation.failure;
    view.message = situation.message;
    view.title = "Coil";
    if (!situation.coil) {
        view.nothing =
            "Scan or type a code, or go through the bin with Ctrl ↓. The coil in hand at the bench "
            "and the row of the bin come along.";
        return view;
    }
    const auto& coil = *situation.coil;
    view.has_coil = true;
    view.title = "Coil " + coil.coil.code;
    view.who = who_view(coil, situation.units);
    const auto chosen = std::min(form.fact, coil.facts.empty() ? 0 : coil.facts.size() - 1);
    constexpr std::array in_order{Number::weight_per_length, Number::diameter, Number::density,
                                  Number::sink_rate};  // of app::fact_sources
    for (std::size_t at = 0; at < coil.facts.size(); ++at) {
        const auto& fact = coil.facts[at];
        const bool is_known = !fact.value.empty();
        view.facts.push_back(
            {fact.name, is_known ? fact.value : "not known yet", is_known, at == chosen,
             at < in_order.size() ? help_on(in_order[at], situation.units) : std::string()});
    }
    if (!coil.facts.empty()) view.source = source_view(coil.facts[chosen]);
    view.source.budget_help = help_on(Number::budget_share, situation.units);
    view.sink = sink_view(coil.sinks, situation.units);
    view.care = care_view(form, coil);
    view.photo = photo_view(form, coil);
    for (const auto& deed : coil.history) {
        view.history.push_back({app::minute_of(deed.at), deed.what, by_and_note(deed.who, deed.why),
                                !deed.was_undone});
    }
    return view;
}

}  // namespace coilbook::bench::coil_page
