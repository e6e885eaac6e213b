#include "identify/line_information.h"

#include <doctest/doctest.h>

#include <Eigen/LU>
#include <cmath>

#include "identify/facts.h"
#include "identify/posterior.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

Evidence evidence_from(const CoilReadings& readings) {
    return evidence_of(readings, default_instruments()).value();
}

}  // namespace

TEST_SUITE("What a coil's readings add up to") {
    // 22.4 gr over 24 in are 11.2 gr/ft. Nothing is known of the density.
    TEST_CASE("a weight without a diameter leaves the density open") {
        const auto line = information_of(evidence_from(a_coil().sample("24 in", "22.4 gr")));
        CHECK(line.precision(0, 0) > 1e4);
        CHECK(line.precision(1, 1) == 0.0);
        CHECK(near(line.pull(0) / line.precision(0, 0), std::log(11.2), 1e-9));
        const auto readings = unit_readings(line);
        CHECK(readings.rows == 1);
        CHECK(information_of(evidence_from(a_coil())).is_empty());
    }

    // Facts are found by least squares with a solver of their own (facts.h).
    TEST_CASE("where all is determined it is the least-squares line with its covariance") {
        for (const auto& readings :
             {a_coil().sample("24 in", "22.4 gr").diameters("0.94 mm 0.95 mm").readings(),
              a_coil().sample("24 in", "22.4 gr").reads("submerged_weight", "16.6 gr").readings(),
              a_coil().sample("24 in", "22.4 gr").drop("24 in", "3.6 s").readings()}) {
            const auto evidence = evidence_from(readings);
            const auto line = information_of(evidence);
            const auto facts = fit_facts(evidence, fresh_water_at_10_C()).facts;
            REQUIRE(facts.line.has_value());
            const auto known = gaussian_of(*facts.line);
            const Eigen::Matrix2d covariance = line.precision.inverse();
            const LinePoint mean = covariance * line.pull;
            CHECK((mean - known.mean).norm() < 2e-3 * std::sqrt(known.covariance(1, 1)));
            CHECK((covariance - known.covariance).norm() < 2e-3 * known.covariance.norm());
        }
    }

    TEST_CASE("how likely a class makes the readings differs by what the posterior says") {
        const auto library = a_library();
        for (const auto& readings :
             {a_coil().sample("24 in", "22.4 gr").readings(),
              a_coil().diameters("0.94 mm 0.95 mm").readings(),
              a_coil().sample("24 in", "22.4 gr").diameters("0.94 mm 0.95 mm").readings()}) {
            const auto evidence = evidence_from(readings);
            const auto line = information_of(evidence);
            const auto one = gaussian_of(library[0].line);
            const auto other = gaussian_of(library[3].line);
            const double expected =
                update(one, evidence).ln_likelihood - update(other, evidence).ln_likelihood;
            const double actual = ln_marginal(line, one) - ln_marginal(line, other);
            CHECK(near(actual, expected, 1e-9 * std::abs(expected)));
        }
    }

    // By hand: 3 % off with 3 % of spread and 4 % of reading error: (0.03/0.05)² = 0.36.
    TEST_CASE("a misfit counts the errors of reading and of the line together") {
        LineInformation line;
        line.precision(0, 0) = 1.0 / (0.04 * 0.04);
        line.pull(0) = line.precision(0, 0) * 0.03;
        const Gaussian2 foretold{{0.0, 0.0}, Eigen::Vector2d(0.03 * 0.03, 1.0).asDiagonal()};
        const auto off = misfit(line, foretold);
        CHECK(off.directions == 1);
        CHECK(near(off.squared, 0.36, 1e-12));
        CHECK(near(off.ln_shrink, std::log(0.05 / 0.04), 1e-12));
    }
}
