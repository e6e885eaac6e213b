#include "identify/reading_outcomes.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "identify/error_budget.h"
#include "identify/next_reading.h"

namespace coilbook {
namespace {

double square(double number) {
    return number * number;
}

// A reading that is straight in θ near each class: value, slope and own variance at a point.
struct Local {
    double value;
    Eigen::RowVector2d slope;
    double variance;
};
Few<NormalOutcome> ask(const Bench& bench, const auto& reading) {
    Few<NormalOutcome> outcomes;
    for (const auto& each : bench.contenders) {
        const Local local = reading(each.line.mean);
        const double spread =
            (local.slope * each.line.covariance * local.slope.transpose()).value();
        outcomes.push_back(
            {each.share, local.value, std::sqrt(spread + local.variance), each.answer});
    }
    return outcomes;
}

// What a reading with few results tells, `table_of` a contender.
Tidings ask_table(const Bench& bench, const auto& table_of) {
    Few<TabledOutcome> outcomes;
    for (const auto& each : bench.contenders) {
        const ResultTable& table = table_of(each);
        outcomes.push_back({each.share, table.results, each.answer, table.entropy});
    }
    return tidings_of(std::span(outcomes.data(), outcomes.size()));
}

// The same sum of squares as relative_variance(), where the instrument is asked for many values.
template <class Q>
class RelativeVariance {
  public:
    explicit RelativeVariance(const Instrument<Q>& instrument)
        : own_(own_uncertainty(instrument)), shared_(shared_uncertainty(instrument)) {}
    [[nodiscard]] double of(Q value) const {
        return square(own_ / value) + square(shared_ / value);
    }

  private:
    Q own_, shared_;
};

Few<NormalOutcome> sample_outcomes(const Bench& bench, Length length) {
    const RelativeVariance<Mass> weighing(bench.instruments.scale);
    const double taping = relative_variance<Length>(length, bench.instruments.tape);
    return ask(bench, [&](const LinePoint& point) -> Local {
        const Mass weight = std::exp(point.x()) * grain_per_foot * length;
        return {point.x(), {1.0, 0.0}, weighing.of(weight) + taping};
    });
}
// How sure the classes' lines are to sink, that is how many standard deviations of its own the
// nearest to floating is denser than the water.
double sureness_of_sinking(const Bench& bench) {
    const double floating = std::log(bench.evidence.water.density.in(gram_per_cubic_centimetre));
    double least = HUGE_VAL;
    for (const auto& each : bench.contenders) {
        const double sd = std::sqrt(each.line.covariance(1, 1));
        least = std::min(least, (each.line.mean.y() - floating) / sd);
    }
    return least;
}

}  // namespace

Few<NormalOutcome> short_sample_outcomes(const Bench& bench) {
    return sample_outcomes(bench, next_short_sample);
}
Few<NormalOutcome> long_sample_outcomes(const Bench& bench) {
    return sample_outcomes(bench, next_long_sample);
}

Few<NormalOutcome> diameter_outcomes(const Bench& bench) {
    const auto& micrometer = bench.instruments.micrometer;
    const Length own = own_uncertainty(micrometer);
    const Length shared = shared_uncertainty(micrometer);
    return ask(bench, [&](const LinePoint& point) -> Local {
        const Length d = line_at(point).diameter;
        const double variance = square(own / d) / next_diameters + square(shared / d) +
                                square(micrometer.coating_uncertainty / d);
        return {ln_diameter_row().dot(point), ln_diameter_row(), variance};
    });
}

// ln of the displaced weight over the sample's length; the scale's shared error cancels in it.
Few<NormalOutcome> submerged_outcomes(const Bench& bench) {
    const Mass in_air = bench.readings.sample_weight->value;
    const double water = bench.evidence.water.density.in(gram_per_cubic_centimetre);
    const Mass own = own_uncertainty(bench.instruments.scale);
    return ask(bench, [&](const LinePoint& point) -> Local {
        const Mass displaced = in_air * (water * std::exp(-point.y()));
        return {point.x() - point.y(), {1.0, -1.0}, 2.0 * square(own / displaced)};
    });
}

// A line that rises is seen to; its "time" is put far off on the slow side of all that sink.
Few<NormalOutcome> drop_outcomes(const Bench& bench) {
    const LnSinkRates rates(bench.evidence.water);
    const RelativeVariance<Duration> timing(bench.instruments.stopwatch);
    const double taping = relative_variance<Length>(next_drop, bench.instruments.tape);
    return ask(bench, [&](const LinePoint& point) -> Local {
        const auto rate = rates.at(point);
        if (rate.rises) return {std::log(1e-4), {0.0, 0.0}, 1.0};
        const double model = sink_rate_model_uncertainty(rate.reynolds);
        const Duration time = next_drop / Speed::from_si(std::exp(rate.value));
        return {rate.value, rate.slope, timing.of(time) + taping + model * model};
    });
}

Tidings tint_tidings(const Bench& bench) {
    return ask_table(bench, [&](const Contender& each) -> const ResultTable& {
        return bench.library.tint_results(each.index);
    });
}

Tidings taper_tidings(const Bench& bench) {
    return ask_table(bench, [&](const Contender& each) -> const ResultTable& {
        return bench.library.taper_results(each.index);
    });
}

Tidings whole_length_tidings(const Bench& bench) {
    return ask_table(bench, [&](const Contender& each) -> const ResultTable& {
        return bench.library.length_results(each.index);
    });
}
double most_bits_of_whole_length(const Bench& bench) {
    const auto& contenders = bench.contenders;
    return most_bits_by_pairs(
        contenders.size(), [&](std::size_t i) { return contenders[i].share; },
        [&](std::size_t i, std::size_t j) {
            return bench.library.length_closeness(contenders[i].index, contenders[j].index);
        });
}

Tidings floats_tidings(const Bench& bench) {
    // Beyond nine, floating has a chance below 1e-18, and so tells less than the last bit of a bit.
    if (sureness_of_sinking(bench) > 9.0) return {0.0, 0.0};
    Few<std::array<double, 2>> tables;
    for (const auto& each : bench.contenders) {
        const double lighter = probability_lighter_than(each.line, bench.evidence.water);
        const double yes = floating_misjudged + (1.0 - 2.0 * floating_misjudged) * lighter;
        tables.push_back({yes, 1.0 - yes});
    }
    Few<TabledOutcome> outcomes;
    for (std::size_t i = 0; i < tables.size(); ++i) {
        const auto& each = bench.contenders[i];
        outcomes.push_back({each.share, tables[i], each.answer, entropy_of(tables[i])});
    }
    return tidings_of(std::span(outcomes.data(), outcomes.size()));
}

}  // namespace coilbook
