#include "bench/pages/bench/bench_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "identify/alike.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::bench_page {
namespace {

constexpr double contends_from = 0.03;    // less probable classes are no contenders
constexpr std::size_t nearest_shown = 2;  // where there is no contender
constexpr std::size_t most_faint = 6;
// A class is near the coil within so many standard deviations of both together.
constexpr double near_within = 4.0;

std::string readout_of(const ReferenceClass& reference, const PlotEllipse& ellipse,
                       double probability, const Units& units) {
    const auto density = std::exp(reference.line.ln_density_mean) * gram_per_cubic_centimetre;
    return fmt::format("{}\n{} {}, {} {}, {}\n{:.1f} % probable", reference.name,
                       significant(ellipse.y, 3), units.weight_per_length.name,
                       significant(ellipse.x, 3), units.diameter.name,
                       in_unit(density, units.density, 3), 100.0 * probability);
}

PlotBand band_of(bool is_across, double value, double uncertainty, const std::string& name) {
    // A band may not reach zero, which has no place on a logarithmic axis.
    return {is_across, std::max(value - ellipse_reach * uncertainty, value * 0.05),
            value + ellipse_reach * uncertainty, name};
}

// The coil itself, as far as it is determined.
void add_coil(PlotView& view, const Facts& facts, const std::string& code, const Units& units) {
    if (facts.line) {
        PlotEllipse own = ellipse_of(*facts.line, units);
        own.emphasis = Emphasis::own;
        own.name = code;
        own.readout =
            fmt::format("{}\n{} {}, {} {}", code, significant(own.y, 4),
                        units.weight_per_length.name, significant(own.x, 3), units.diameter.name);
        view.ellipses.push_back(own);
        return;
    }
    if (facts.linear_density) {
        view.bands.push_back(band_of(true, up(facts.linear_density->value, units),
                                     up(facts.linear_density->uncertainty, units), code));
    }
    if (facts.diameter) {
        view.bands.push_back(band_of(false, across(facts.diameter->value, units),
                                     across(facts.diameter->uncertainty, units), code));
    }
}

// How far a class is from the coil, in standard deviations of both together, as far as the coil is
// determined; 0 where nothing is.
double distance(const LineDistribution& line, const Facts& facts) {
    if (facts.line) return coilbook::distance(line, *facts.line);
    const PlotEllipse ellipse = ellipse_of(line, grains_and_feet);
    const auto along = [](double value, double uncertainty, double centre, double sd_ln) {
        return std::abs(std::log(value / centre)) / std::hypot(uncertainty / value, sd_ln);
    };
    if (facts.linear_density && facts.linear_density->value > LinearDensity{}) {
        return along(facts.linear_density->value.in(grain_per_foot),
                     facts.linear_density->uncertainty.in(grain_per_foot), ellipse.y,
                     ellipse.sd_ln_y);
    }
    if (facts.diameter && facts.diameter->value > Length{}) {
        return along(facts.diameter->value.in(millimetre),
                     facts.diameter->uncertainty.in(millimetre), ellipse.x, ellipse.sd_ln_x);
    }
    return 0.0;
}

bool is_determined(const Facts& facts) {
    return facts.line || facts.linear_density || facts.diameter;
}

// The classes that are drawn out, the most probable first.
std::vector<std::size_t> contenders(const ReferenceLibrary& library, const Verdict& verdict) {
    std::vector<std::size_t> listed, found;
    for (const std::size_t index : verdict.ranking) {
        if (library[index].family == Family::unlisted) continue;
        listed.push_back(index);
        if (verdict.probabilities[index] >= contends_from) found.push_back(index);
    }
    if (!found.empty() || !is_determined(verdict.facts)) return found;
    // As the eye measures it, not in spreads: a broad class is not nearer for being broad.
    std::ranges::stable_sort(listed, {}, [&](std::size_t index) {
        LineDistribution middle = library[index].line;
        middle.ln_grains_per_foot_sd = middle.ln_density_sd = 1.0;
        middle.correlation = 0.0;
        return distance(middle, verdict.facts);
    });
    listed.resize(std::min(listed.size(), nearest_shown));
    return listed;
}

// Axes that hold whatever is not faint; everything, where all is.
void fit(PlotView& view) {
    std::vector<double> xs, ys;
    const bool all_faint = std::ranges::all_of(view.ellipses, &PlotEllipse::is_faint);
    for (const PlotEllipse& each : view.ellipses) {
        if (each.is_faint() && !all_faint) continue;
        for (const double side : {-each.reach, each.reach}) {
            xs.push_back(each.x * std::exp(side * each.sd_ln_x));
            ys.push_back(each.y * std::exp(side * each.sd_ln_y));
        }
    }
    for (const PlotBand& band : view.bands) {
        auto& values = band.is_across ? ys : xs;
        values.push_back(band.low);
        values.push_back(band.high);
    }
    view.x = axis_round(xs, 1.06, 1.3);
    view.y = axis_round(ys, 1.08, 1.3);
}

}  // namespace

PlotView picture_of(const ReferenceLibrary& library, const Verdict& verdict,
                    const std::string& coil_code,
                    const std::vector<LineDistribution>& before_learning, const Units& units) {
    PlotView view;
    name_axes(view, units);
    view.empty = "No classes in the reference library";
    const auto add = [&](std::size_t index, bool is_faint) {
        const ReferenceClass& reference = library[index];
        const FamilySign sign = sign_of(reference);
        PlotEllipse ellipse = ellipse_of(reference.line, sign, units);
        ellipse.name = reference.name;
        if (is_faint) ellipse.emphasis = Emphasis::faint;
        ellipse.readout = readout_of(reference, ellipse, verdict.probabilities[index], units);
        view.ellipses.push_back(ellipse);
        const PlotLegend entry{sign.mark, sign.series, sign.stroke, std::string(sign.word)};
        const bool is_new = std::ranges::none_of(
            view.legend, [&](const PlotLegend& each) { return each.name == entry.name; });
        if (is_new) view.legend.push_back(entry);
    };
    const std::vector<std::size_t> drawn_out = contenders(library, verdict);
    for (const std::size_t index : drawn_out) {
        add(index, false);
        if (library[index].confirmed == 0 || index >= before_learning.size()) continue;
        PlotEllipse before = ellipse_of(before_learning[index], units);
        before.series = sign_of(library[index]).series;
        before.mark = Mark::ring;
        before.stroke = Stroke::dash_dotted;
        before.emphasis = Emphasis::faint;
        before.name = library[index].name + " before it learned";
        before.readout = before.name;
        view.ellipses.push_back(before);
        view.ellipses[view.ellipses.size() - 2].readout +=
            fmt::format("\nlearned from {} confirmed", library[index].confirmed);
    }
    std::vector<std::size_t> others;
    for (const std::size_t index : verdict.ranking) {
        if (library[index].family == Family::unlisted) continue;
        if (std::ranges::count(drawn_out, index) > 0) continue;
        if (distance(library[index].line, verdict.facts) <= near_within) others.push_back(index);
    }
    if (is_determined(verdict.facts)) {
        std::ranges::stable_sort(others, {}, [&](std::size_t index) {
            return distance(library[index].line, verdict.facts);
        });
        others.resize(std::min(others.size(), most_faint));
    }
    for (const std::size_t index : others) add(index, true);
    const bool any_learned = std::ranges::any_of(drawn_out, [&](std::size_t index) {
        return library[index].confirmed > 0 && index < before_learning.size();
    });
    if (any_learned) {
        view.legend.push_back({Mark::ring, 0, Stroke::dash_dotted, "before it learned"});
    }
    add_coil(view, verdict.facts, coil_code, units);
    fit(view);
    return view;
}

}  // namespace coilbook::bench::bench_page
