#include "bench/pages/library/library_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "bench/line_picture.h"
#include "bench/pages/library/class_words.h"
#include "line/curves.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::library_page {
namespace {

// Curves between those of whole numbers are drawn where the y axis covers less than this ratio.
constexpr double close_by = 4.0;

void grow(std::vector<double>& xs, std::vector<double>& ys, const PlotEllipse& ellipse) {
    for (const double side : {-ellipse.reach, ellipse.reach}) {
        xs.push_back(ellipse.x * std::exp(side * ellipse.sd_ln_x));
        ys.push_back(ellipse.y * std::exp(side * ellipse.sd_ln_y));
    }
}

void fit(PlotView& map, const std::vector<app::ClassSheet>& classes, const Units& units) {
    std::vector<double> xs, ys;
    for (const auto& sheet : classes) {
        if (!sheet.is_line()) continue;
        grow(xs, ys, ellipse_of(sheet.now.line, units));
        grow(xs, ys, ellipse_of(sheet.before, units));
    }
    for (const PlotPoint& point : map.points) {
        xs.push_back(point.x);
        ys.push_back(point.y);
    }
    map.x = axis_round(xs, 1.08, 1.5);
    map.y = axis_round(ys, 1.10, 1.5);
}

PlotCurve curve_through(const std::vector<LineBody>& lines, const Units& units) {
    PlotCurve curve;
    for (const LineBody& line : lines) {
        curve.points.push_back({across(line.diameter, units), up(line.weight_per_length, units)});
    }
    return curve;
}

void add_density(PlotView& map, double g_per_cm3, bool is_fine, const CurveSpan& span,
                 const Units& units) {
    PlotCurve curve =
        curve_through(lines_of_density(g_per_cm3 * gram_per_cubic_centimetre, span), units);
    curve.name = fmt::format("{} g/cm³", g_per_cm3);
    curve.readout = fmt::format("All lines of {} g/cm³", g_per_cm3);
    if (is_fine) curve.up_to_span = close_by;
    map.curves.push_back(std::move(curve));
}

void add_rate(PlotView& map, double number, bool is_fine, const CurveSpan& span,
              const Units& units) {
    PlotCurve curve = curve_through(
        lines_sinking_at(number * units.sink_rate.size, fresh_water_at_10_C(), span), units);
    curve.stroke = Stroke::dotted;
    curve.is_named_at_end = false;
    curve.name = fmt::format("{} {}", number, units.sink_rate.name);
    curve.readout =
        fmt::format("All lines that sink at {}\nin still fresh water of 10 °C", curve.name);
    if (is_fine) curve.up_to_span = close_by;
    map.curves.push_back(std::move(curve));
}

void add_curves(PlotView& map, const Units& units) {
    const auto weight = units.weight_per_length.size;
    const CurveSpan span{map.y.low * weight, map.y.high * weight, 120};
    for (const double whole : {1.0, 1.5, 2.0, 3.0, 4.0, 5.0}) {
        add_density(map, whole, false, span, units);
    }
    for (const double fine : {1.25, 1.75, 2.5, 3.5, 4.5}) {
        add_density(map, fine, true, span, units);
    }
    const double step = units.is_metric ? 2.5 : 1.0;
    for (int rate = 1; rate <= 10; ++rate) {
        add_rate(map, step * rate, false, span, units);
        add_rate(map, step * (rate + 0.5), true, span, units);
    }
}

// Where the coil stands, as far as its readings tell.
void add_point(PlotView& map, const app::ConfirmedExample& example,
               const std::vector<app::ClassSheet>& classes, const Units& units) {
    if (!example.line) return;
    const auto sheet = std::ranges::find_if(
        classes, [&](const app::ClassSheet& each) { return each.now.name == example.class_name; });
    const auto figures = app::middle_of(*example.line);
    PlotPoint point;
    point.x = across(figures.diameter, units);
    point.y = up(figures.weight_per_length, units);
    if (sheet != classes.end()) {
        const FamilySign sign = sign_of(sheet->now);
        point.mark = sign.mark;
        point.series = sign.series;
    }
    point.is_light = true;
    if (example.is_set_aside) {
        point.mark = Mark::warning;
        point.series = 5;
        point.is_light = false;
    }
    point.readout = coil_readout(example, figures, units);
    map.points.push_back(std::move(point));
}

void add_legend(PlotView& map, const std::vector<app::ClassSheet>& classes) {
    for (const auto& sheet : classes) {
        if (!sheet.is_line()) continue;
        const FamilySign sign = sign_of(sheet.now);
        const bool is_new = std::ranges::none_of(
            map.legend, [&](const PlotLegend& each) { return each.name == sign.word; });
        if (!is_new) continue;
        map.legend.push_back({.mark = sign.mark,
                              .series = sign.series,
                              .stroke = sign.stroke,
                              .name = std::string(sign.word)});
    }
    map.legend.push_back(
        {.stroke = Stroke::solid, .name = "equal density", .sign = PlotLegend::Sign::curve});
    map.legend.push_back({.stroke = Stroke::dotted,
                          .name = "equal sink rate, still water",
                          .sign = PlotLegend::Sign::curve});
    if (!map.points.empty()) {
        map.legend.push_back({.mark = Mark::disc,
                              .series = 4,
                              .name = "confirmed coil",
                              .sign = PlotLegend::Sign::rimmed_mark});
    }
    const bool any_aside =
        std::ranges::any_of(map.points, [](const PlotPoint& each) { return !each.is_light; });
    if (any_aside) {
        map.legend.push_back({.mark = Mark::warning,
                              .series = 5,
                              .name = "looks wrong",
                              .sign = PlotLegend::Sign::mark});
    }
}

}  // namespace

PlotView ground_of(const std::vector<app::ClassSheet>& classes,
                   const std::vector<app::ConfirmedExample>& examples, const Units& units) {
    PlotView map;
    name_axes(map, units);
    map.empty = "No classes in the reference library";
    for (const auto& example : examples) add_point(map, example, classes, units);
    fit(map, classes, units);
    add_curves(map, units);
    add_legend(map, classes);
    return map;
}

std::vector<PlotEllipse> ellipses_of(const std::vector<app::ClassSheet>& classes,
                                     const std::vector<std::size_t>& shown,
                                     const std::string& chosen, const Units& units) {
    std::vector<PlotEllipse> first, light, faint;
    for (std::size_t k = 0; k < classes.size(); ++k) {
        const auto& sheet = classes[k];
        if (!sheet.is_line()) continue;
        const FamilySign sign = sign_of(sheet.now);
        PlotEllipse ellipse = ellipse_of(sheet.now.line, sign, units);
        ellipse.name = short_name_of(sheet.now);
        ellipse.key = sheet.now.name;
        ellipse.readout = class_readout(sheet, units);
        if (sheet.now.name == chosen) {
            ellipse.emphasis = Emphasis::chosen;
            first.insert(first.begin(), ellipse);
            if (!sheet.has_learned()) continue;
            PlotEllipse before = ellipse_of(sheet.before, sign, units);
            before.stroke = Stroke::dash_dotted;
            before.emphasis = Emphasis::faint;
            before.readout = sheet.now.name + " before it learned";
            first.push_back(before);
        } else if (std::ranges::binary_search(shown, k)) {
            ellipse.emphasis = Emphasis::light;
            light.push_back(ellipse);
        } else {
            ellipse.emphasis = Emphasis::faint;
            faint.push_back(ellipse);
        }
    }
    // The few that names stand for first: where there is no room for all, theirs is found first.
    std::ranges::stable_sort(light, {}, [](const PlotEllipse& each) { return each.name.size(); });
    first.insert(first.end(), light.begin(), light.end());
    first.insert(first.end(), faint.begin(), faint.end());
    return first;
}

std::optional<PlotWindow> close_up_of(const app::ClassSheet& sheet, const Units& units) {
    if (!sheet.is_line()) return std::nullopt;
    std::vector<double> xs, ys;
    grow(xs, ys, ellipse_of(sheet.now.line, units));
    grow(xs, ys, ellipse_of(sheet.before, units));
    return PlotWindow{axis_round(xs, 1.15, 1.6), axis_round(ys, 1.15, 1.6)};
}

PlotWindow in_other_units(const PlotWindow& window, const Units& before, const Units& now) {
    const double weights = before.weight_per_length.size / now.weight_per_length.size;
    const double diameters = before.diameter.size / now.diameter.size;
    PlotWindow same = window;
    same.x.low *= diameters;
    same.x.high *= diameters;
    same.y.low *= weights;
    same.y.high *= weights;
    return same;
}

}  // namespace coilbook::bench::library_page
