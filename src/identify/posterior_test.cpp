#include "identify/posterior.h"

#include <doctest/doctest.h>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>

#include "identify/gauss_hermite.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

// Evidence that θ is exactly `point`.
Evidence exactly(const LinePoint& point) {
    constexpr double sd = 1e-4;  // far below the spread of any class, and free of cancellation
    Evidence evidence{{}, {}, {}, {}, {}, {}, {}, fresh_water_at_10_C()};
    evidence.straight.rows = 2;
    evidence.straight.a.row(0) << 1.0 / sd, 0.0;
    evidence.straight.a.row(1) << 0.0, 1.0 / sd;
    evidence.straight.b.head<2>() = point / sd;
    return evidence;
}

std::vector<double> probabilities_of(const Evidence& evidence, const ReferenceLibrary& library) {
    std::vector<LineUpdate> updates(library.size());
    std::vector<double> probabilities(library.size());
    posterior(evidence, library, updates, probabilities);
    return probabilities;
}

// The same marginal likelihood by brute force: draws lines around where the fast answer has them
// (three times as wide, weighed back), and instruments with errors of their true shapes, and
// averages how probable the readings are with each. Shared errors are rectangular or normal as the
// contract has them; a reading's own error is normal.
class BruteForce {
  public:
    BruteForce(CoilReadings readings, unsigned seed)
        : readings_(std::move(readings)), random_(seed) {}

    struct Estimate {
        double value;
        double sd;
    };
    Estimate likelihood(const ReferenceClass& reference, int draws) {
        const auto prior = gaussian_of(reference.line);
        auto proposal = update(prior, evidence_of(readings_, default_instruments()).value()).line;
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
    // Density of reading `read` when `expected` is shown with a normal error, in units of `unit`.
    template <class Q>
    static double shown(Q read, Q expected, Q sd, Q unit) {
        const double off = (read - expected) / sd;
        return std::exp(-0.5 * off * off) / (sd.in(unit)*std::sqrt(2.0 * std::numbers::pi));
    }

    // Lengths that the tape read have true lengths about them; the rest follows from the line.
    double readings_given(const LinePoint& point) {
        const auto instruments = default_instruments();
        const auto& scale = instruments.scales.at("");
        const auto& tape = instruments.tapes.at("");
        const auto& micrometer = instruments.micrometers.at("");
        const auto line = line_at(point);
        const Mass scale_error = uniform() * scale.limit_of_error;
        const Length tape_error = uniform() * tape.limit_of_error;
        const auto true_length = [&](Length read) {
            return read - tape_error - normal() * own_uncertainty(tape);
        };
        double likelihood = 1.0;
        Mass sample;
        if (const auto weighed = weighed_sample(readings_)) {
            sample = line.weight_per_length * true_length(weighed->length.value);
            likelihood *= shown(weighed->weight.value, sample + scale_error, own_uncertainty(scale),
                                weighed->weight.value);
        }
        if (const auto weighed = weighed_whole(readings_)) {
            const Mass whole = line.weight_per_length * true_length(weighed->length.value);
            likelihood *= shown(weighed->weight.value, whole + scale_error, own_uncertainty(scale),
                                weighed->weight.value);
        }
        if (readings_.submerged_weight) {
            const Density water = fresh_water_at_10_C().density;
            const Mass submerged = sample * (1.0 - water / density(line));
            likelihood *= shown(readings_.submerged_weight->value, submerged + scale_error,
                                own_uncertainty(scale), readings_.sample_weight->value);
        }
        if (!readings_.diameters.empty()) {
            const auto mean = mean_diameter(readings_);
            const Length off =
                uniform() * micrometer.limit_of_error + normal() * soft_coating_uncertainty;
            // The spread of the readings, as a type A evaluation of their own error.
            const double n = static_cast<double>(readings_.diameters.size());
            double scatter = 0.0;
            for (const auto& each : readings_.diameters) {
                scatter += std::pow(each.value / mean.mean - 1.0, 2);
            }
            const Length own = std::sqrt(scatter / (n - 1.0) / n) * mean.mean;
            likelihood *= shown(mean.mean, line.diameter + off, own, mean.mean);
        }
        if (readings_.sink_time) {
            const auto& distance = readings_.sink_distance->value;
            const auto sinking = sink(line, fresh_water_at_10_C());
            if (sinking.rate <= Speed{}) return 0.0;
            const double drag = std::exp(normal() * sink_rate_model_uncertainty(sinking.reynolds));
            const double temperature = std::exp(normal() * ln_sink_rate_per_kelvin *
                                                unread_temperature_uncertainty.kelvin());
            const Duration time = true_length(distance) / (drag * temperature * sinking.rate);
            likelihood *=
                shown(readings_.sink_time->value, time,
                      own_uncertainty(instruments.stopwatches.at("")), readings_.sink_time->value);
        }
        return likelihood;
    }

    CoilReadings readings_;
    std::mt19937 random_;
};

}  // namespace

TEST_SUITE("Posterior") {
    // Source: Abramowitz and Stegun, table 25.10, n = 3 (from memory; exact: 0, ±√(3/2), weights
    // 2√π/3 and √π/6).
    TEST_CASE("the Gauss-Hermite rule of three nodes is the handbook's") {
        const auto& rule = GaussHermite<3>::rule();
        CHECK(near(rule.nodes[0], -1.224744871, 1e-9));
        CHECK(near(rule.nodes[1], 0.0, 1e-12));
        CHECK(near(rule.weights[0], 0.2954089752, 1e-9));
        CHECK(near(rule.weights[1], 1.1816359006, 1e-9));
    }

    TEST_CASE("the rule of seven nodes is exact for even powers up to twelve") {
        // ∫ exp(−t²) t^(2m) dt = Γ(m + ½).
        const auto& rule = GaussHermite<7>::rule();
        for (int m = 0; m <= 6; ++m) {
            double sum = 0.0;
            for (std::size_t i = 0; i < 7; ++i) {
                sum += rule.weights[i] * std::pow(rule.nodes[i], 2 * m);
            }
            CHECK(near(sum / std::tgamma(m + 0.5), 1.0, 1e-12));
        }
    }

    // Source: R. A. Fisher's iris data, petal length and width; quadratic discriminant analysis of
    // scikit-learn 1.2.1 with equal priors (covariances over n − 1), and the same from R's MASS.
    // Means and covariances below were computed from the 150 published rows.
    TEST_CASE("with exact readings it is a quadratic discriminant: the iris example") {
        const auto species = [](double mx, double my, double sxx, double sxy, double syy) {
            ReferenceClass each;
            each.name = "species";
            each.weight = 1.0;
            each.line = {mx, std::sqrt(sxx), my, std::sqrt(syy), sxy / std::sqrt(sxx * syy)};
            return each;
        };
        const ReferenceLibrary irises{
            species(1.462, 0.246, 0.030159183673, 0.006069387755, 0.011106122449),
            species(4.26, 1.326, 0.220816326531, 0.073102040816, 0.039106122449),
            species(5.552, 2.026, 0.304587755102, 0.048824489796, 0.075432653061),
        };
        const auto first = probabilities_of(exactly({4.8, 1.6}), irises);
        CHECK(near(first[1], 0.827879276, 5e-6));
        CHECK(near(first[2], 0.172120724, 5e-6));
        const auto second = probabilities_of(exactly({5.0, 1.7}), irises);
        CHECK(near(second[1], 0.508968092, 5e-6));
        CHECK(near(second[2], 0.491031908, 5e-6));
    }

    TEST_CASE("without readings the probabilities are the library's weights") {
        const auto library = a_library();
        const auto evidence = evidence_of({}, default_instruments()).value();
        const auto probabilities = probabilities_of(evidence, library);
        double weights = 0.0;
        for (const auto& each : library) weights += each.weight;
        for (std::size_t k = 0; k < library.size(); ++k) {
            CHECK(near(probabilities[k], library[k].weight / weights, 1e-12));
        }
    }

    TEST_CASE("the fast answer agrees with brute force, for every kind of measured reading") {
        struct Row {
            const char* name;
            CoilReadings readings;
        };
        const Row rows[] = {
            {"a sample", a_coil().sample("24 in", "22.4 gr")},
            {"a sample and diameters",
             a_coil().sample("24 in", "22.4 gr").diameters("0.84 mm 0.85 mm 0.86 mm")},
            {"a sample and the whole coil",
             a_coil().sample("12 in", "11.2 gr").whole("10 ft", "111 gr")},
            {"a weighing under water",
             a_coil().sample("24 in", "22.4 gr").reads("submerged_weight", "17.0 gr")},
            {"a timed drop", a_coil().sample("24 in", "22.4 gr").drop("24 in", "3.4 s")},
            {"everything", a_coil()
                               .sample("24 in", "22.4 gr")
                               .whole("10 ft", "111 gr")
                               .diameters("0.84 mm 0.85 mm 0.86 mm")
                               .reads("submerged_weight", "17.0 gr")
                               .drop("24 in", "3.4 s")},
            {"a slow tip", a_coil()
                               .sample("15 ft", "104 gr")
                               .diameters("1.06 mm 1.08 mm")
                               .drop("24 in", "7.6 s")},
        };
        const auto library = a_library();
        for (const auto& row : rows) {
            CAPTURE(row.name);
            const auto evidence = evidence_of(row.readings, default_instruments()).value();
            const auto fast = probabilities_of(evidence, library);
            BruteForce brute(row.readings, 20261125);
            std::vector<BruteForce::Estimate> estimates;
            double total = 0.0;
            for (const auto& reference : library) {
                auto estimate = brute.likelihood(reference, 4000);
                const auto updated = update(gaussian_of(reference.line), evidence);
                const double soft = reference.weight *
                                    std::exp(ln_soft_likelihood(evidence, reference, updated.line));
                estimate.value *= soft;
                estimate.sd *= soft;
                total += estimate.value;
                estimates.push_back(estimate);
            }
            for (std::size_t k = 0; k < library.size(); ++k) {
                CAPTURE(library[k].name);
                // Four standard errors of the sampling, and a hundredth for rectangles taken as
                // bells and curves taken as straight.
                const double within = 4.0 * estimates[k].sd / total + 0.01;
                CHECK(near(fast[k], estimates[k].value / total, within));
            }
        }
    }

    TEST_CASE("a line that floats cannot have sunk") {
        const auto library = a_library();
        const auto evidence = evidence_of(a_coil().drop("24 in", "4 s"), default_instruments());
        const auto probabilities = probabilities_of(*evidence, library);
        CHECK(probabilities[7] < 1e-6);
        CHECK(near(std::reduce(probabilities.begin(), probabilities.end()), 1.0, 1e-12));
    }

    TEST_CASE("a usual length speaks for tips, any other length for nothing in particular") {
        const UsualLengths usual{{10.0 * foot, 15.0 * foot}, 0.04};
        const double tip = ln_length_density(15.0 * foot, usual);
        const double offcut = ln_length_density(12.3 * foot, usual);
        const double any = ln_length_density(15.0 * foot, std::nullopt);
        CHECK(tip > any);
        CHECK(offcut < any);
        // A density over ln(length): it integrates to one (by a fine sum from 1 to 150 ft).
        double sum = 0.0;
        const double width = std::log(150.0) / 20000.0;
        for (int i = 0; i < 20000; ++i) {
            sum += width * std::exp(ln_length_density(std::exp((i + 0.5) * width) * foot, usual));
        }
        CHECK(near(sum, 1.0, 1e-3));
    }
}
