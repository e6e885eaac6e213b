#include "identify/next_reading.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <numeric>

#include "identify/gauss_hermite.h"
#include "metrology/measured.h"

namespace coilbook {
namespace {

constexpr double least_share = 1e-3;  // classes below this do not matter for the question
constexpr double least_bits = 0.005;

double normal_density(double z, const NormalOutcome& outcome) {
    const double off = (z - outcome.mean) / outcome.sd;
    return std::exp(-0.5 * off * off) / (outcome.sd * std::sqrt(2.0 * std::numbers::pi));
}

double square(double number) {
    return number * number;
}

// The classes that still count, with their probabilities brought back to a sum of 1.
struct Contenders {
    std::vector<std::size_t> index;
    std::vector<double> share;
};

Contenders contenders_of(std::span<const double> probabilities,
                         std::span<const LineUpdate> updates) {
    Contenders contenders;
    for (std::size_t k = 0; k < probabilities.size(); ++k) {
        if (probabilities[k] < least_share || !is_conceivable(updates[k].line.mean)) continue;
        contenders.index.push_back(k);
        contenders.share.push_back(probabilities[k]);
    }
    const double sum = std::reduce(contenders.share.begin(), contenders.share.end());
    for (double& share : contenders.share) share /= sum;
    return contenders;
}

// Everything that the questions below need.
struct Bench {
    const CoilReadings& readings;
    const Evidence& evidence;
    const Instruments& instruments;
    const ReferenceLibrary& library;
    std::span<const LineUpdate> updates;
    Contenders contenders;

    // A reading that is straight in θ near each class: value, slope and own variance at a point.
    struct Local {
        double value;
        Eigen::RowVector2d slope;
        double variance;
    };
    [[nodiscard]] double bits_of(const std::function<Local(const LinePoint&)>& reading) const {
        std::vector<NormalOutcome> outcomes;
        for (std::size_t i = 0; i < contenders.index.size(); ++i) {
            const auto& line = updates[contenders.index[i]].line;
            const auto local = reading(line.mean);
            const double spread = (local.slope * line.covariance * local.slope.transpose()).value();
            outcomes.push_back(
                {contenders.share[i], local.value, std::sqrt(spread + local.variance)});
        }
        return expected_bits(outcomes);
    }

    // A reading with a few answers, P(answer | class k).
    [[nodiscard]] double bits_of_answers(
        const std::function<std::vector<double>(std::size_t)>& answers) const {
        std::vector<std::vector<double>> joint;
        for (std::size_t i = 0; i < contenders.index.size(); ++i) {
            joint.push_back(answers(contenders.index[i]));
            for (double& each : joint.back()) each *= contenders.share[i];
        }
        return expected_bits(std::span<const std::vector<double>>(joint));
    }
};

// Relative variance of one reading of `value`.
template <class Q>
double relative_variance(Q value, const Instrument<Q>& instrument) {
    return square(own_uncertainty(instrument) / value) +
           square(shared_uncertainty(instrument) / value);
}

double sample_bits(const Bench& bench, Length length) {
    const auto& scale = bench.instruments.scales.at("");
    const auto& tape = bench.instruments.tapes.at("");
    return bench.bits_of([&](const LinePoint& point) -> Bench::Local {
        const Mass weight = line_at(point).weight_per_length * length;
        return {point.x(),
                {1.0, 0.0},
                relative_variance<Mass>(weight, scale) + relative_variance<Length>(length, tape)};
    });
}

double diameter_bits(const Bench& bench) {
    const auto& micrometer = bench.instruments.micrometers.at("");
    return bench.bits_of([&](const LinePoint& point) -> Bench::Local {
        const Length d = line_at(point).diameter;
        const double variance = square(own_uncertainty(micrometer) / d) / next_diameters +
                                square(shared_uncertainty(micrometer) / d) +
                                square(soft_coating_uncertainty / d);
        return {ln_diameter_row().dot(point), ln_diameter_row(), variance};
    });
}

// The ratio of the weights under water and in air; the scale's shared error cancels but for 1 − r.
double submerged_bits(const Bench& bench) {
    const auto& scale = bench.instruments.scales.at("");
    const Mass in_air = bench.readings.sample_weight->value;
    const double water = bench.evidence.water.density.in(gram_per_cubic_centimetre);
    return bench.bits_of([&](const LinePoint& point) -> Bench::Local {
        const double over = water * std::exp(-point.y());
        const double r = 1.0 - over;
        const double variance = (1.0 + r * r) * square(own_uncertainty(scale) / in_air) +
                                square((1.0 - r) * (shared_uncertainty(scale) / in_air));
        return {r, {0.0, over}, variance};
    });
}

// A line that rises is seen to; its "time" is put far off on the slow side of all that sink.
double drop_bits(const Bench& bench) {
    const auto& watch = bench.instruments.stopwatches.at("");
    const auto& tape = bench.instruments.tapes.at("");
    const auto& water = bench.evidence.water;
    return bench.bits_of([&](const LinePoint& point) -> Bench::Local {
        const auto sinking = sink(line_at(point), water);
        const double model = sink_rate_model_uncertainty(sinking.reynolds);
        if (sinking.rate <= Speed{}) return {std::log(1e-4), {0.0, 0.0}, 1.0};
        const Duration time = next_drop / sinking.rate;
        const auto rate = ln_sink_rate(point, water);
        return {rate.value, rate.slope,
                relative_variance<Duration>(time, watch) +
                    relative_variance<Length>(next_drop, tape) + model * model};
    });
}

double tint_bits(const Bench& bench) {
    return bench.bits_of_answers([&](std::size_t k) {
        const auto& tints = bench.library[k].tints;
        return std::vector<double>(tints.begin(), tints.end());
    });
}

double taper_bits(const Bench& bench) {
    return bench.bits_of_answers([&](std::size_t k) {
        const double tapered = bench.library[k].tapered;
        return std::vector<double>{tapered, 1.0 - tapered};
    });
}

double floats_bits(const Bench& bench) {
    return bench.bits_of_answers([&](std::size_t k) {
        const double lighter =
            probability_lighter_than(bench.updates[k].line, bench.evidence.water);
        const double yes = floating_misjudged + (1.0 - 2.0 * floating_misjudged) * lighter;
        return std::vector<double>{yes, 1.0 - yes};
    });
}

// The whole length as a choice among 400 narrow ranges from 1 to 150 ft.
double whole_length_bits(const Bench& bench) {
    constexpr int steps = 400;
    const double width = std::log(150.0) / steps;
    return bench.bits_of_answers([&](std::size_t k) {
        std::vector<double> answers(steps);
        for (int i = 0; i < steps; ++i) {
            const Length length = std::exp((i + 0.5) * width) * foot;
            answers[static_cast<std::size_t>(i)] =
                width * std::exp(ln_length_density(length, bench.library[k].usual));
        }
        return answers;
    });
}

}  // namespace

double expected_bits(std::span<const NormalOutcome> outcomes) {
    const auto& rule = GaussHermite<16>::rule();
    double bits = 0.0;
    for (const auto& outcome : outcomes) {
        for (std::size_t i = 0; i < rule.nodes.size(); ++i) {
            const double z = outcome.mean + std::numbers::sqrt2 * outcome.sd * rule.nodes[i];
            double mixture = 0.0;
            for (const auto& each : outcomes) mixture += each.weight * normal_density(z, each);
            bits += outcome.weight * rule.weights[i] / std::sqrt(std::numbers::pi) *
                    std::log2(normal_density(z, outcome) / mixture);
        }
    }
    return std::max(bits, 0.0);
}

double expected_bits(std::span<const std::vector<double>> joint) {
    double bits = 0.0;
    for (std::size_t answer = 0; !joint.empty() && answer < joint.front().size(); ++answer) {
        double together = 0.0;
        for (const auto& row : joint) together += row[answer];
        for (const auto& row : joint) {
            if (row[answer] <= 0.0) continue;
            const double share = std::reduce(row.begin(), row.end());
            bits += row[answer] * std::log2(row[answer] / (share * together));
        }
    }
    return std::max(bits, 0.0);
}

std::vector<ReadingAdvice> further_readings(const CoilReadings& readings, const Evidence& evidence,
                                            const Instruments& instruments,
                                            const ReferenceLibrary& library,
                                            std::span<const LineUpdate> updates,
                                            std::span<const double> probabilities) {
    const Bench bench{readings, evidence, instruments,
                      library,  updates,  contenders_of(probabilities, updates)};
    std::vector<ReadingAdvice> advice;
    const auto offer = [&](ReadingField field, double bits, const char* how) {
        if (bits >= least_bits) advice.push_back({field, bits, how});
    };
    const auto sample = weighed_sample(readings);
    const bool weighed = sample || weighed_whole(readings);
    if (!weighed) {
        offer(ReadingField::sample_weight, sample_bits(bench, next_short_sample),
              "weigh a measured piece, 24 in or longer");
    } else if (!weighed_whole(readings) && sample->length.value < 0.5 * next_long_sample) {
        offer(ReadingField::sample_weight, sample_bits(bench, next_long_sample),
              "weigh a longer piece, 10 ft or the whole coil");
    }
    if (readings.diameters.empty()) {
        offer(ReadingField::diameters, diameter_bits(bench),
              "measure the diameter in three places");
    }
    if (sample && !readings.submerged_weight) {
        offer(ReadingField::submerged_weight, submerged_bits(bench),
              "weigh the same piece hanging in water");
    }
    if (!evidence.drop && readings.floats != true) {
        offer(ReadingField::sink_time, drop_bits(bench),
              "time a level piece sinking 24 in of still water");
    }
    if (!readings.floats && !evidence.drop) {
        offer(ReadingField::floats, floats_bits(bench), "see whether it floats when pushed under");
    }
    if (!readings.taper) {
        offer(ReadingField::taper, taper_bits(bench), "feel whether it is level or tapered");
    }
    if (!readings.tint) offer(ReadingField::tint, tint_bits(bench), "note its tint");
    if (!readings.whole_length) {
        offer(ReadingField::whole_length, whole_length_bits(bench),
              "measure the whole coil's length");
    }
    std::ranges::stable_sort(advice, std::greater{}, &ReadingAdvice::bits);
    return advice;
}

}  // namespace coilbook
