#include "identify/posterior.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <numeric>

#include "identify/gauss_hermite.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

// Evidence that θ is exactly `point`.
Evidence exactly(const LinePoint& point) {
    constexpr double sd = 1e-4;  // far below the spread of any class, and free of cancellation
    Evidence evidence;
    evidence.water = fresh_water_at_10_C();
    evidence.bells.r << 1.0 / sd, 0.0, 0.0, 1.0 / sd;
    evidence.bells.one.b = point / sd;
    return evidence;
}

std::vector<double> probabilities_of(const Evidence& evidence, const ReferenceLibrary& library) {
    const PreparedLibrary prepared(library);
    Posterior posterior(prepared);
    posterior.take_up(evidence);
    return {posterior.probabilities().begin(), posterior.probabilities().end()};
}

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

    TEST_CASE("a line that floats cannot have sunk") {
        const auto library = a_library();
        const auto evidence = evidence_of(a_coil().drop("24 in", "4 s"), default_instruments());
        const auto probabilities = probabilities_of(*evidence, library);
        CHECK(probabilities[7] < 1e-6);
        CHECK(near(std::reduce(probabilities.begin(), probabilities.end()), 1.0, 1e-12));
    }

    // Source: density of the bivariate t by its closed form (Kotz and Nadarajah, Multivariate t
    // Distributions, 2004, eq. 1.1; from memory), against the sum of twelve normals.
    TEST_CASE("a Student class is a sum of normals that has the Student density") {
        ReferenceLibrary library = a_library();
        for (const double nu : {4.0, 9.0, 30.0}) {
            for (const double off : {0.0, 1.0, 2.0, 4.0}) {
                CAPTURE(nu);
                CAPTURE(off);
                auto& line = library[0].line;
                line.degrees_of_freedom = nu;
                const double scale = std::sqrt((nu - 2.0) / nu);
                const double sx = line.ln_grains_per_foot_sd * scale;
                const double sy = line.ln_density_sd * scale;
                const double density = std::pow(1.0 + off * off / nu, -0.5 * (nu + 2.0)) /
                                       (2.0 * std::numbers::pi * sx * sy);
                const auto evidence =
                    exactly({line.ln_grains_per_foot_mean + off * sx, line.ln_density_mean});
                const PreparedLibrary prepared(library);
                Gaussian2 normal;
                double sum = 0.0;
                for (std::size_t c = prepared.first_component(0); c < prepared.first_component(1);
                     ++c) {
                    const double ln_share =
                        prepared.components().ln_share[c] - std::log(6.0 / 33.0);
                    sum +=
                        std::exp(ln_share +
                                 update(prepared.components().gaussian(c), evidence).ln_likelihood);
                }
                // exp(−½|Rθ − b|²) has the volume 2π / |R| over θ.
                sum *= evidence.bells.r.determinant() / (2.0 * std::numbers::pi);
                CAPTURE(sum / density);
                CHECK(near(sum / density, 1.0, off > 3.0 ? 0.05 : 0.01));
            }
        }
    }

    TEST_CASE("a usual length speaks for tips, any other length for nothing in particular") {
        const UsualLengths usual{{10.0 * foot, 15.0 * foot}, 0.04};
        const double tip = length_density(15.0 * foot, usual);
        const double offcut = length_density(12.3 * foot, usual);
        const double any = length_density(15.0 * foot, std::nullopt);
        CHECK(tip > any);
        CHECK(offcut < any);
        // A density over ln(length): it integrates to one (by a fine sum from 1 to 150 ft).
        double sum = 0.0;
        const double width = std::log(150.0) / 20000.0;
        for (int i = 0; i < 20000; ++i) {
            sum += width * length_density(std::exp((i + 0.5) * width) * foot, usual);
        }
        CHECK(near(sum, 1.0, 1e-3));
    }
}
