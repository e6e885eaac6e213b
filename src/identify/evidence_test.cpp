#include "identify/evidence.h"

#include <doctest/doctest.h>

#include <cmath>

#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

Evidence evidence(const CoilReadings& readings) {
    return evidence_of(readings, default_instruments()).value();
}

}  // namespace

TEST_SUITE("Evidence") {
    // By hand: 22.4 gr over 2 ft are 11.2 gr/ft. The scale is good to 0.1/√12 and 0.1/√3 gr,
    // together 0.064550 gr or 0.28817 %; the tape to 1/16 and 1/32 in, 0.025516 in or 0.10631 %;
    // together 0.30715 %.
    TEST_CASE("a worked example: 24 inches that weigh 22.4 grains") {
        const auto straight = evidence(a_coil().sample("24 in", "22.4 gr")).straight;
        REQUIRE(straight.rows == 1);
        const double sd = 1.0 / straight.a(0, 0);
        CHECK(near(sd, 0.0030715, 1e-7));
        CHECK(near(straight.b(0) * sd, std::log(11.2), 1e-9));
        CHECK(straight.a(0, 1) == 0.0);
    }

    TEST_CASE("a stated uncertainty replaces the instruments'") {
        const auto straight =
            evidence(a_coil().sample("24 in +- 0 in", "22.4 gr +- 0.224 gr")).straight;
        CHECK(near(1.0 / straight.a(0, 0), 0.01, 1e-6));
    }

    TEST_CASE("two weighings on one scale are wrong together") {
        // With a huge shared error, sample and whole agree on each other but not on the truth: the
        // second row, once the first is known, is much surer than it would be alone.
        Instruments shop = default_instruments();
        shop.scales[""].limit_of_error = 3.0 * grain;
        const auto both =
            evidence_of(a_coil().sample("24 in", "22.4 gr").whole("2 ft", "22.4 gr"), shop);
        REQUIRE(both->straight.rows == 2);
        const double total = both->straight.a.col(0).squaredNorm();
        const auto one = evidence_of(a_coil().sample("24 in", "22.4 gr"), shop);
        CHECK(total / one->straight.a.col(0).squaredNorm() < 1.01);
    }

    TEST_CASE("more diameters average out only what they do not share") {
        const auto sd = [](const char* text) {
            return 1.0 / evidence(a_coil().diameters(text)).straight.a.row(0).norm();
        };
        CHECK(sd("0.85 mm 0.85 mm 0.85 mm 0.85 mm") < sd("0.85 mm"));
        // Soft coating 0.010 mm and calibration 0.004/√3 mm stay: 1.2074 % of 0.85 mm; the row
        // (½, −½) has the length 1/√2.
        CHECK(near(sd("0.85 mm 0.85 mm 0.85 mm 0.85 mm"), 0.012074 * std::sqrt(2.0), 2e-5));
        CHECK(sd("0.80 mm 0.90 mm") > 2.0 * sd("0.85 mm 0.85 mm"));
    }

    TEST_CASE("the scale's calibration largely cancels between air and water") {
        // r = 0.75: the shared error enters as (1 − r) of itself. By hand, in parts of 20 gr: own
        // 0.028868 √(1 + r²) / 20 = 0.0018042, shared 0.057735 (1 − r) / 20 = 0.00072169,
        // together 0.0019432; less what the sample's own residual tells (at most that).
        const auto coil =
            evidence(a_coil().sample("100 in", "20 gr").reads("submerged_weight", "15 gr"));
        REQUIRE(coil.submerged.has_value());
        CHECK(near(coil.submerged->ratio, 0.75, 1e-12));
        CHECK(coil.submerged->sd < 0.0019432 + 1e-6);
        CHECK(coil.submerged->sd > 0.0014);
        CHECK(coil.submerged->coupling.head<2>().norm() > 0.0);
    }

    TEST_CASE("a reading without its partner says nothing yet") {
        CHECK(evidence(a_coil().reads("sample_weight", "22.4 gr")).straight.rows == 0);
        CHECK_FALSE(evidence(a_coil().reads("sink_time", "4 s")).drop.has_value());
        CHECK_FALSE(evidence(a_coil().reads("submerged_weight", "15 gr")).submerged.has_value());
    }

    TEST_CASE("an unknown scale is refused by name") {
        CoilReadings readings = a_coil().sample("24 in", "22.4 gr");
        readings.scale = "S9";
        const auto refused = evidence_of(readings, default_instruments());
        REQUIRE_FALSE(refused.has_value());
        CHECK(refused.error().field == "scale");
    }

    TEST_CASE("the slopes of the bent residuals are right") {
        const auto coil = evidence(a_coil()
                                       .sample("24 in", "22.4 gr")
                                       .reads("submerged_weight", "17 gr")
                                       .drop("24 in", "3.4 s"));
        const LinePoint point{std::log(11.0), std::log(3.5)};
        const auto at = coil.bent_residuals(point);
        REQUIRE(at.count == 2);
        constexpr double step = 1e-6;
        for (int i = 0; i < 2; ++i) {
            LinePoint above = point;
            above(i) += step;
            LinePoint below = point;
            below(i) -= step;
            const Eigen::Vector2d slope =
                (coil.bent_residuals(above).value - coil.bent_residuals(below).value) /
                (2.0 * step);
            CHECK(near(at.slope(0, i) / slope(0), 1.0, 1e-5));
            CHECK(near(at.slope(1, i) / slope(1), 1.0, 1e-5));
        }
    }
}
