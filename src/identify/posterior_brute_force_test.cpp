// The fast posterior against brute force over the whole model, reading by reading.
//
// The model as the headers state it: a line from the class; a true length that the tape misread by
// its shared error (rectangular) and by rounding; a true weight that the scale misread by its
// shared error, by its repeatability and by rounding; diameters that share the micrometer's error
// and the soft coating; a drop with the errors of tape, watch, temperature and drag law. What a
// display shows has the probability that its rectangle of true readings has.
#include <doctest/doctest.h>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <random>
#include <string>

#include "identify/error_budget.h"
#include "identify/posterior.h"
#include "line/sink_rate.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

class BruteForce {
  public:
    BruteForce(CoilReadings readings, Instruments instruments, unsigned seed)
        : readings_(std::move(readings)), instruments_(std::move(instruments)), random_(seed) {}

    struct Estimate {
        double value;
        double sd;
    };
    // ∫ N(θ) P(readings | θ) dθ, by lines drawn around where the fast answer has them, wider, and
    // weighed back.
    Estimate likelihood(const ReferenceClass& reference, int draws) {
        const auto prior = gaussian_of(reference.line);
        auto proposal = update(prior, evidence_of(readings_, instruments_).value()).line;
        proposal.covariance *= 2.25;
        const Eigen::Matrix2d factor = proposal.covariance.llt().matrixL();
        double sum = 0.0;
        double squares = 0.0;
        for (int i = 0; i < draws; ++i) {
            const LinePoint point = proposal.mean + factor * LinePoint(normal(), normal());
            const double value =
                density_at(point, prior) / density_at(point, proposal) * readings_given(point);
            sum += value;
            squares += value * value;
        }
        const double mean = sum / draws;
        return {mean, std::sqrt((squares / draws - mean * mean) / draws)};
    }

  private:
    double normal() { return std::normal_distribution<double>()(random_); }
    double uniform() { return std::uniform_real_distribution<double>(-1.0, 1.0)(random_); }

    static double density_at(const LinePoint& point, const Gaussian2& gaussian) {
        const Eigen::Vector2d off = point - gaussian.mean;
        return std::exp(-0.5 * off.dot(gaussian.covariance.inverse() * off)) /
               (2.0 * std::numbers::pi * std::sqrt(gaussian.covariance.determinant()));
    }
    static double below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

    // The probability, over the width of the rounding, that `indicated` is shown as `read`.
    template <class Q>
    static double shown(Q read, Q indicated, const Instrument<Q>& instrument) {
        const Q off = read - indicated;
        const Q half = 0.5 * instrument.resolution;
        if (instrument.repeatability == Q{}) {
            return off > -half && off < half ? 0.5 * (read / half) : 0.0;
        }
        const double up = (off + half) / instrument.repeatability;
        const double down = (off - half) / instrument.repeatability;
        return 0.5 * (read / half) * (below(up) - below(down));
    }

    double readings_given(const LinePoint& point) {
        const auto& scale = instruments_.scales.at("");
        const auto& tape = instruments_.tapes.at("");
        const auto& micrometer = instruments_.micrometers.at("");
        const auto line = line_at(point);
        const Mass scale_error = uniform() * scale.limit_of_error;
        const Length tape_error = uniform() * tape.limit_of_error;
        const auto true_length = [&](Length read) {
            return read - tape_error - 0.5 * uniform() * tape.resolution;
        };
        double likelihood = 1.0;
        Mass sample;
        if (const auto weighed = weighed_sample(readings_)) {
            sample = line.weight_per_length * true_length(weighed->length.value);
            likelihood *= shown<Mass>(weighed->weight.value, sample + scale_error, scale);
        }
        if (const auto weighed = weighed_whole(readings_)) {
            const Mass whole = line.weight_per_length * true_length(weighed->length.value);
            likelihood *= shown<Mass>(weighed->weight.value, whole + scale_error, scale);
        }
        if (readings_.submerged_weight) {
            const Mass submerged = sample * (1.0 - bucket().density / density(line));
            likelihood *=
                shown<Mass>(readings_.submerged_weight->value, submerged + scale_error, scale);
        }
        if (!readings_.diameters.empty()) {
            const Length shown_as = line.diameter + uniform() * micrometer.limit_of_error +
                                    normal() * soft_coating_uncertainty;
            for (const auto& each : readings_.diameters) {
                likelihood *= shown<Length>(each.value, shown_as, micrometer);
            }
        }
        if (readings_.sink_time) {
            const auto sinking = sink(line, bucket());
            if (sinking.rate <= Speed{}) return 0.0;
            const double drag = std::exp(normal() * sink_rate_model_uncertainty(sinking.reynolds));
            const double temperature = std::exp(normal() * ln_sink_rate_per_kelvin *
                                                unread_temperature_uncertainty.kelvin());
            const Duration time =
                true_length(readings_.sink_distance->value) / (drag * temperature * sinking.rate);
            const Duration sd = own_uncertainty(instruments_.stopwatches.at(""));
            const double off = (readings_.sink_time->value - time) / sd;
            likelihood *= std::exp(-0.5 * off * off);
        }
        return likelihood;
    }
    static Water bucket() { return fresh_water_at_10_C(); }

    CoilReadings readings_;
    Instruments instruments_;
    std::mt19937 random_;
};

Instruments kitchen() {
    Instruments bench = default_instruments();
    bench.scales[""].resolution = 0.1 * gram;
    bench.scales[""].limit_of_error = 0.1 * gram;
    bench.tapes[""].resolution = 0.125 * inch;
    bench.tapes[""].limit_of_error = 0.125 * inch;
    bench.micrometers[""].resolution = 0.05 * millimetre;
    bench.micrometers[""].limit_of_error = 0.05 * millimetre;
    return bench;
}

// A scale for flour: it steps by a whole gram.
Instruments flour_scale() {
    Instruments bench = kitchen();
    bench.scales[""].resolution = 1.0 * gram;
    bench.scales[""].limit_of_error = 0.3 * gram;
    return bench;
}

Instruments shaky_caliper() {
    Instruments bench = default_instruments();
    bench.micrometers[""].resolution = 0.02 * millimetre;
    bench.micrometers[""].repeatability = 0.02 * millimetre;
    return bench;
}

}  // namespace

TEST_SUITE("Posterior by brute force") {
    TEST_CASE("the fast answer agrees, for every kind of measured reading and their combinations") {
        struct Case {
            const char* name;
            Instruments bench;
            CoilReadings readings;
        };
        const Case cases[] = {
            {"a sample", default_instruments(), a_coil().sample("24 in", "22.4 gr")},
            {"a sample and a diameter", default_instruments(),
             a_coil().sample("24 in", "22.4 gr").diameters("0.85 mm 0.85 mm 0.85 mm")},
            {"a sample and the whole coil share the line", default_instruments(),
             a_coil().sample("12 in", "11.2 gr").whole("10 ft", "111 gr")},
            {"a weighing under water", default_instruments(),
             a_coil().sample("24 in", "22.4 gr").reads("submerged_weight", "17.0 gr")},
            {"a timed drop", default_instruments(),
             a_coil().sample("24 in", "22.4 gr").drop("24 in", "3.4 s")},
            {"a timed drop alone", default_instruments(), a_coil().drop("24 in", "3.4 s")},
            {"everything", default_instruments(),
             a_coil()
                 .sample("24 in", "22.3 gr")
                 .whole("10 ft", "111 gr")
                 .diameters("0.85 mm 0.85 mm 0.85 mm")
                 .reads("submerged_weight", "17.0 gr")
                 .drop("24 in", "3.4 s")},
            {"a slow tip", default_instruments(),
             a_coil()
                 .sample("15 ft", "104 gr")
                 .diameters("1.07 mm 1.07 mm")
                 .drop("24 in", "7.6 s")},
            {"a short light piece on a shop's scale", default_instruments(),
             a_coil().sample("6 in", "3.6 gr").diameters("0.7 mm")},
            {"a kitchen's scale", kitchen(), a_coil().sample("24 in", "1.1 g")},
            {"a kitchen's caliper", kitchen(), a_coil().diameters("0.85 mm 0.85 mm 0.85 mm")},
            {"a kitchen's scale and caliper", kitchen(),
             a_coil().sample("24 in", "1.4 g").diameters("0.85 mm 0.85 mm")},
            {"a kitchen's scale twice", kitchen(),
             a_coil().sample("24 in", "1.4 g").whole("10 ft", "7.1 g")},
            {"a kitchen's scale under water", kitchen(),
             a_coil().sample("10 ft", "7.2 g").reads("submerged_weight", "5.4 g")},
            {"a kitchen's scale under water, nothing displaced that it shows", kitchen(),
             a_coil().sample("24 in", "0.9 g").reads("submerged_weight", "0.8 g")},
            {"a kitchen with everything", kitchen(),
             a_coil()
                 .sample("24 in", "1.4 g")
                 .whole("10 ft", "7.1 g")
                 .diameters("0.85 mm 0.85 mm 0.85 mm")
                 .drop("24 in", "3.4 s")},
            {"a scale that steps by a gram", flour_scale(), a_coil().sample("24 in", "1 g")},
            {"a scale that steps by a gram, and a drop", flour_scale(),
             a_coil().sample("4 ft", "3 g").drop("24 in", "3.6 s")},
            {"a shaky caliper", shaky_caliper(),
             a_coil().sample("24 in", "22.4 gr").diameters("0.84 mm 0.86 mm 0.84 mm 0.88 mm")},
        };
        const auto library = a_library();
        const PreparedLibrary prepared(library);
        Posterior posterior(prepared);
        for (const auto& each : cases) {
            CAPTURE(std::string(each.name));
            const auto evidence = evidence_of(each.readings, each.bench).value();
            posterior.take_up(evidence);
            BruteForce brute(each.readings, each.bench, 20261125);
            std::vector<BruteForce::Estimate> estimates;
            double total = 0.0;
            for (std::size_t k = 0; k < library.size(); ++k) {
                auto estimate = brute.likelihood(library[k], 12'000);
                double soft = library[k].weight;
                if (evidence.whole_length) {
                    soft *= length_density(*evidence.whole_length, library[k].usual);
                }
                estimate.value *= soft;
                estimate.sd *= soft;
                total += estimate.value;
                estimates.push_back(estimate);
            }
            for (std::size_t k = 0; k < library.size(); ++k) {
                CAPTURE(library[k].name);
                CAPTURE(posterior.probabilities()[k]);
                CAPTURE(estimates[k].value / total);
                CAPTURE(estimates[k].sd / total);
                CHECK(near(posterior.probabilities()[k], estimates[k].value / total,
                           4.0 * estimates[k].sd / total + 0.003));
            }
        }
    }
}
