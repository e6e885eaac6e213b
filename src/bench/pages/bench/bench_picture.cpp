#include "bench/pages/bench/bench_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "identify/gaussian2.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::bench_page {
namespace {

constexpr double reach = 2.0;
constexpr double named_from = 0.03;  // less probable classes are drawn faintly

// A line's distribution over (ln diameter, ln weight per foot): a straight map of the one over
// (ln weight per foot, ln density), so its covariance is M Σ Mᵀ.
PlotEllipse ellipse_of(const LineDistribution& line) {
    const Gaussian2 gaussian = gaussian_of(line);
    Eigen::Matrix2d map;
    map.row(0) = ln_diameter_row();
    map.row(1) = Eigen::RowVector2d(1.0, 0.0);
    const Eigen::Vector2d mean = map * gaussian.mean + Eigen::Vector2d(ln_diameter_constant(), 0.0);
    const Eigen::Matrix2d covariance = map * gaussian.covariance * map.transpose();
    PlotEllipse ellipse;
    ellipse.x = std::exp(mean.x());
    ellipse.y = std::exp(mean.y());
    ellipse.sd_ln_x = std::sqrt(covariance(0, 0));
    ellipse.sd_ln_y = std::sqrt(covariance(1, 1));
    ellipse.correlation = covariance(0, 1) / (ellipse.sd_ln_x * ellipse.sd_ln_y);
    ellipse.reach = reach;
    return ellipse;
}

std::string readout_of(const ReferenceClass& reference, const PlotEllipse& ellipse,
                       double probability) {
    return fmt::format("{}\n{} gr/ft, {} mm, {} g/cm³\n{:.1f} % probable", reference.name,
                       significant(ellipse.y, 3), significant(ellipse.x, 3),
                       significant(std::exp(reference.line.ln_density_mean), 3),
                       100.0 * probability);
}

PlotBand band_of(bool is_across, double value, double uncertainty, const std::string& name) {
    // A band may not reach zero, which has no place on a logarithmic axis.
    return {is_across, std::max(value - reach * uncertainty, value * 0.05),
            value + reach * uncertainty, name};
}

// The coil itself, as far as it is determined, and the middle of the picture.
void add_coil(PlotView& view, const Facts& facts, const std::string& code) {
    if (facts.line) {
        PlotEllipse own = ellipse_of(*facts.line);
        own.own = true;
        own.name = code;
        own.readout =
            fmt::format("{}\n{} gr/ft, {} mm", code, significant(own.y, 4), significant(own.x, 3));
        view.x = {own.x / 1.9, own.x * 1.9};
        view.y = {own.y / 2.6, own.y * 2.6};
        view.ellipses.push_back(own);
        return;
    }
    if (facts.linear_density) {
        view.bands.push_back(band_of(true, facts.linear_density->value.in(grain_per_foot),
                                     facts.linear_density->uncertainty.in(grain_per_foot), code));
    }
    if (facts.diameter) {
        view.bands.push_back(band_of(false, facts.diameter->value.in(millimetre),
                                     facts.diameter->uncertainty.in(millimetre), code));
    }
}

// Axes that hold every class and every band.
void fit_all(PlotView& view) {
    std::vector<double> across, up;
    for (const PlotEllipse& each : view.ellipses) {
        for (const double side : {-each.reach, each.reach}) {
            across.push_back(each.x * std::exp(side * each.sd_ln_x));
            up.push_back(each.y * std::exp(side * each.sd_ln_y));
        }
    }
    for (const PlotBand& band : view.bands) {
        auto& values = band.is_across ? up : across;
        values.push_back(band.low);
        values.push_back(band.high);
    }
    view.x = axis_round(across, 1.05);
    view.y = axis_round(up, 1.1);
}

}  // namespace

FamilySign sign_of(const ReferenceClass& reference) {
    if (!reference.family) return {3, Mark::cross};
    switch (*reference.family) {
        case Family::level_line:
            return {0, Mark::disc};
        case Family::matched_tip:
            return {1, Mark::square};
        case Family::sinking_leader:
            return {2, Mark::triangle};
        case Family::unlisted:
            return {4, Mark::ring};
    }
    return {4, Mark::ring};
}

PlotView picture_of(const ReferenceLibrary& library, const Verdict& verdict,
                    const std::string& coil_code) {
    PlotView view;
    view.x_label = "Diameter, mm";
    view.y_label = "Weight per foot, gr/ft";
    view.empty = "No classes in the reference library";
    for (const std::size_t index : verdict.ranking) {
        const ReferenceClass& reference = library[index];
        if (reference.family == Family::unlisted) continue;
        PlotEllipse ellipse = ellipse_of(reference.line);
        const FamilySign sign = sign_of(reference);
        ellipse.series = sign.series;
        ellipse.mark = sign.mark;
        ellipse.name = reference.name;
        ellipse.is_faint = verdict.probabilities[index] < named_from;
        ellipse.readout = readout_of(reference, ellipse, verdict.probabilities[index]);
        view.ellipses.push_back(ellipse);
    }
    fit_all(view);
    const std::size_t bands_before = view.bands.size();
    add_coil(view, verdict.facts, coil_code);
    if (view.bands.size() != bands_before) fit_all(view);
    view.legend = {
        {Mark::disc, 0, "level line"}, {Mark::square, 1, "tip"}, {Mark::triangle, 2, "leader"}};
    const bool has_other = std::ranges::any_of(
        library, [](const ReferenceClass& each) { return !each.family.has_value(); });
    if (has_other) view.legend.push_back({Mark::cross, 3, "other"});
    return view;
}

}  // namespace coilbook::bench::bench_page
