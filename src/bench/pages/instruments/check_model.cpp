// The view of a check: the standard at hand, its readings, and what all of them tell.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "bench/number_words.h"
#include "bench/pages/instruments/instruments_model.h"
#include "bench/widgets/even_axis.h"

namespace coilbook::bench::instruments_page {
namespace {

std::string plural(std::size_t count, std::string_view thing) {
    return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

// What is laid on it: "weight", "pin or block".
std::string_view standard_word(app::InstrumentKind kind) {
    switch (kind) {
        case app::InstrumentKind::scale:
            return "weight";
        case app::InstrumentKind::tape:
            return "length";
        case app::InstrumentKind::micrometer:
            return "pin or block";
        case app::InstrumentKind::stopwatch:
            return "time";
        case app::InstrumentKind::thermometer:
            return "temperature";
    }
    return {};
}

std::string stated_text(const app::StandardRead& standard) {
    return standard.written.substr(0, standard.written.rfind(','));
}

std::string next_step(const app::KnownInstrument& known, const CheckDraft& check) {
    const auto word = standard_word(known.key.kind);
    if (!check.at) {
        const std::size_t done = check.read().size();
        if (done == 0)
            return fmt::format("Take a {} that is known: type what it says on it.", word);
        return fmt::format("{} read. Another {}, or save the check with Ctrl Enter.",
                           with_capital(plural(done, "standard")), word);
    }
    const auto& standard = check.standards[*check.at];
    const std::size_t count = standard.readings.size();
    const auto stated = stated_text(standard);
    if (count == 0) {
        return fmt::format("Read {} and type what it shows, as it comes.", stated);
    }
    return fmt::format("Read {} anew: {} so far. Enter in the empty field goes on.", stated,
                       plural(count, "reading"));
}

// What the uncertainty of a standard is as one standard deviation, short enough to stand beside the
// choice; while nothing is typed, where to find it.
std::string sure_note(const CheckDraft& check, app::InstrumentKind kind) {
    const auto figure = app::span_from(kind, trimmed(check.sure.text), check.unit);
    if (figure && !trimmed(check.sure.text).empty()) {
        return fmt::format(
            "{}, k = 1",
            app::span_in_words(app::standard_uncertainty(*figure, check.as), check.unit));
    }
    switch (check.as) {
        case app::StatedAs::tolerance:
            return "what its class allows";
        case app::StatedAs::standard_uncertainty:
            return "one standard deviation";
        case app::StatedAs::expanded:
            return "as on a certificate";
    }
    return {};
}

// The picture of what a check found. `at_hand`: where the standard at hand is stated.
PlotView picture_of(const app::AnyCalibration& found, std::string_view unit,
                    const std::optional<app::ShownFigure>& at_hand) {
    PlotView plot;
    plot.x_label = fmt::format("standard, {}", unit);
    plot.y_label = fmt::format("reads too much by, {}", unit);
    plot.y_unit = fmt::format("off by, {}", unit);
    plot.legend = {{.name = "a standard, ± 1 std. dev.", .sign = PlotLegend::Sign::mark},
                   {.name = "one offset for all", .sign = PlotLegend::Sign::band}};
    std::vector<double> xs, ys{0.0};
    std::visit(
        [&]<class Q>(const Calibration<Q>& calibration) {
            for (const auto& each : calibration.deviations) {
                PlotPoint point;
                point.x = app::number_of_reading(app::ShownFigure{each.stated}, unit);
                point.y = app::number_of_span(app::ShownFigure{each.deviation}, unit);
                point.sure = app::number_of_span(app::ShownFigure{each.uncertainty}, unit);
                point.readout =
                    fmt::format("{:g} {}: off by {}", point.x, unit,
                                app::span_in_words(app::ShownFigure{each.deviation},
                                                   app::ShownFigure{each.uncertainty}, unit));
                if (at_hand == app::ShownFigure{each.stated}) {
                    point.series = 1;
                    point.mark = Mark::diamond;
                }
                xs.push_back(point.x);
                ys.push_back(point.y + point.sure);
                ys.push_back(point.y - point.sure);
                plot.points.push_back(std::move(point));
            }
            const double middle = app::number_of_span(app::ShownFigure{calibration.offset}, unit);
            const double sure =
                app::number_of_span(app::ShownFigure{calibration.offset_uncertainty}, unit);
            plot.bands.push_back({.low = middle - sure, .high = middle + sure});
            ys.push_back(middle + sure);
            ys.push_back(middle - sure);
            plot.x = even_axis_round(xs);
            if (calibration.stretch && !calibration.one_offset_fits() &&
                calibration.standards > 2) {
                const auto& stretch = *calibration.stretch;
                // A straight line in the axes' units; their zero may be elsewhere (°F).
                const double zero = app::number_of_reading(app::ShownFigure{Q{}}, unit);
                const double at_zero =
                    app::number_of_span(app::ShownFigure{stretch.offset_at_zero}, unit) -
                    stretch.part * zero;
                PlotCourse line{{}, 2, Stroke::dashed};
                for (const double x : {plot.x.low, plot.x.high}) {
                    line.points.push_back({.x = x, .y = at_zero + stretch.part * x});
                }
                plot.courses.push_back(std::move(line));
                plot.legend.push_back({.series = 2,
                                       .stroke = Stroke::dashed,
                                       .name = "a stretched scale",
                                       .sign = PlotLegend::Sign::course});
            }
        },
        found);
    if (std::ranges::any_of(plot.points, [](const auto& each) { return each.series == 1; })) {
        plot.legend.insert(plot.legend.begin() + 1, {.mark = Mark::diamond,
                                                     .series = 1,
                                                     .name = "the one at hand",
                                                     .sign = PlotLegend::Sign::mark});
    }
    plot.y = even_axis_round(ys);
    return plot;
}

// `on_soft`: the instrument is a micrometer that was tried on coatings, which counts for coils.
std::vector<Sentence> sentences_of(const app::CheckInWords& words, bool is_saved, bool on_soft) {
    std::vector<Sentence> all;
    const auto help = [](Number number) { return help_on(number, grains_and_feet); };
    all.push_back({words.offset, Tone::normal, {}, help(Number::reads_too_much)});
    all.push_back({words.fit, words.fits ? Tone::normal : Tone::warn,
                   !words.fits       ? std::optional(Mark::warning)
                   : words.tells_fit ? std::optional(Mark::check)
                                     : std::nullopt});
    if (!words.scatter.empty()) {
        all.push_back({words.scatter, Tone::normal, {}, help(Number::scatter)});
    }
    if (!is_saved) {
        all.push_back({on_soft
                           ? "Once saved, this counts for what is hard; diameters of coils go on "
                             "being put right by what it does to soft coatings."
                           : words.from_now,
                       Tone::muted,
                       {}});
        if (!words.surer.empty()) all.push_back({words.surer, Tone::accent, Mark::diamond});
    }
    return all;
}

}  // namespace

CheckView check_view(const Form& form, const app::KnownInstrument& known) {
    const CheckDraft& check = *check_at_hand(form);
    const auto kind = known.key.kind;
    CheckView view;
    view.title = "Check of " + (known.key.code.empty() ? "the usual " : std::string()) +
                 app::in_words(known.key);
    view.step = next_step(known, check);
    view.standard_label = with_capital(std::string(standard_word(kind)));
    view.stated = {view.standard_label, check.unit, "what it says on it", "",
                   words_of(check.stated.problem)};
    view.sure = {"Sure to ±", check.unit, "", sure_note(check, kind), words_of(check.sure.problem)};
    view.reading = {"It shows", check.unit, "one reading", "", words_of(check.reading.problem)};
    view.stated_as = static_cast<int>(check.as);
    view.other_unit = other_unit(kind, check.unit);
    view.live_help = help_on(Number::mean_of_readings, form.units);
    view.off_help = help_on(Number::off_standard, form.units);
    view.may_read = check.at.has_value();
    view.how = how_to_check(kind);
    view.is_begun = check.is_begun();
    if (check.at) {
        const auto& here = check.standards[*check.at];
        const auto live = app::repeats_in_words(known.instrument, here.readings, check.unit);
        for (std::size_t at = 0; at < here.readings.size(); ++at) {
            view.chips.push_back({here.as_written[at], live.is_odd[at]});
        }
        if (!live.mean.empty()) {
            view.live = "mean " + live.mean;
            if (!live.scatter.empty()) view.live += ", scatter " + live.scatter;
        }
        if (std::ranges::find(live.is_odd, true) != live.is_odd.end()) {
            view.odd =
                "One is unlike the others. If you know that it is a slip, click it to take "
                "it out; else leave it in and read some more.";
        }
    }
    const auto read = check.read();
    const auto found =
        read.empty() ? tl::unexpected(Problem{}) : app::judge_check(known.instrument, read);
    view.can_save = found.has_value();
    std::size_t at_read = 0;
    for (std::size_t at = 0; at < check.standards.size(); ++at) {
        const auto& standard = check.standards[at];
        StandardRow row{stated_text(standard), plural(standard.readings.size(), "reading"), "",
                        check.at == at, false};
        if (!standard.readings.empty()) {
            if (found) {
                row.off = std::visit(
                    [&](const auto& calibration) {
                        const auto& each = calibration.deviations[at_read];
                        return app::span_in_words(app::ShownFigure{each.deviation},
                                                  app::ShownFigure{each.uncertainty}, check.unit);
                    },
                    *found);
            }
            ++at_read;
            const auto odd =
                app::repeats_in_words(known.instrument, standard.readings, check.unit).is_odd;
            row.is_odd = std::ranges::find(odd, true) != odd.end();
        }
        view.standards.push_back(std::move(row));
    }
    return view;
}

ResultView check_result(const Form& form, const app::KnownInstrument& known) {
    const CheckDraft& check = *check_at_hand(form);
    ResultView view;
    view.title = "What it tells so far";
    const auto read = check.read();
    if (read.empty()) {
        view.plot.empty =
            "Each standard becomes a point here: how far off it is read, and how "
            "surely.";
        return view;
    }
    const auto found = app::judge_check(known.instrument, read);
    if (!found) {
        view.sentences.push_back({words_of(found.error()), Tone::bad, Mark::warning});
        return view;
    }
    view.sentences = sentences_of(app::in_words(known.instrument, *found, check.unit), false,
                                  known.on_soft.has_value());
    std::optional<app::ShownFigure> here;
    if (check.at) here = check.standards[*check.at].stated;
    view.plot = picture_of(*found, check.unit, here);
    return view;
}

ResultView last_check(const app::KnownInstrument& known, const Units& units) {
    ResultView view;
    view.title = "No check yet";
    const auto standards = app::standards_kept(known.key.kind, known.as_written);
    const auto found = standards.empty() ? tl::unexpected(Problem{})
                                         : app::judge_check(known.instrument, standards);
    if (!found) {
        view.sentences.push_back({known.key.code.empty() ? "The figures of an ordinary one count."
                                                         : "What its maker says of it counts.",
                                  Tone::normal,
                                  {}});
        view.sentences.push_back(
            {"Two or three standards, each read three times, tell what it is "
             "off by and how its readings scatter. That takes ten minutes, "
             "and makes every coil read with it surer.",
             Tone::muted,
             {}});
        return view;
    }
    view.title = "The last check";
    if (known.checked_at) view.title += ", " + app::day_in_words(*known.checked_at);
    const auto unit = app::unit_to_type(known, units);
    view.sentences = sentences_of(app::in_words(known.instrument, *found, unit), true,
                                  known.on_soft.has_value());
    view.plot = picture_of(*found, unit, {});
    return view;
}

}  // namespace coilbook::bench::instruments_page
