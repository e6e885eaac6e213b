#include "identify/evidence.h"

#include <doctest/doctest.h>

#include <Eigen/LU>
#include <cmath>

#include "line/sink_rate.h"
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
        const auto sd = [](const char* text, Length repeatability = {}) {
            Instruments shop = default_instruments();
            shop.micrometers[""].repeatability = repeatability;
            return 1.0 / evidence_of(a_coil().diameters(text), shop)->straight.a.row(0).norm();
        };
        // Alike readings share even their rounding; what repeats itself averages out.
        CHECK(near(sd("0.85 mm 0.85 mm 0.85 mm 0.85 mm"), sd("0.85 mm"), 1e-12));
        const Length shaky = 0.01 * millimetre;
        CHECK(sd("0.85 mm 0.85 mm 0.85 mm 0.85 mm", shaky) < 0.9 * sd("0.85 mm", shaky));
        // Soft coating 0.010 mm and calibration 0.004/√3 mm stay: 1.2074 % of 0.85 mm; the row
        // (½, −½) has the length 1/√2.
        CHECK(near(sd("0.85 mm 0.85 mm 0.85 mm 0.85 mm"), 0.012074 * std::sqrt(2.0), 2e-5));
        CHECK(sd("0.80 mm 0.90 mm") > 2.0 * sd("0.85 mm 0.85 mm"));
    }

    // Three diameters of a tapered coil that differ by 8 % are what a taper does (0.08 / √3 of 0.85
    // mm with what all share makes 4.77 %), and their scatter is not counted on top of it.
    TEST_CASE("the spread of a tapered coil's diameters is counted once") {
        const auto sd = [](const char* text) {
            return 1.0 / evidence(a_coil().diameters(text).reads("taper", "tapered"))
                             .straight.a.row(0)
                             .norm();
        };
        CHECK(near(sd("0.78 mm 0.85 mm 0.92 mm"),
                   std::hypot(0.08 / std::sqrt(3.0), 0.012074) * std::sqrt(2.0), 2e-5));
        CHECK(sd("0.5 mm 0.85 mm 1.2 mm") > 1.5 * sd("0.78 mm 0.85 mm 0.92 mm"));
    }

    // 20 gr in air and 15 gr in water: 5 gr of water are displaced, and the scale's calibration is
    // in neither the difference nor, so, the volume. By hand: each rounding 0.028868 gr, together
    // 0.040825 gr or 0.81650 % of 5 gr; the tape 0.025516 of 100 in.
    TEST_CASE("the scale's calibration cancels between air and water") {
        Instruments shop = default_instruments();
        shop.scales[""].limit_of_error = 0.1 * grain;
        const auto sd_of_displaced = [&] {
            const auto both = evidence_of(
                a_coil().sample("100 in", "20 gr").reads("submerged_weight", "15 gr"), shop);
            REQUIRE(both->straight.rows == 2);
            const Eigen::Matrix2d a = both->straight.a.topRows<2>();
            const Eigen::Matrix2d covariance = (a.transpose() * a).inverse();
            const Eigen::RowVector2d displaced{1.0, -1.0};
            return std::sqrt((displaced * covariance * displaced.transpose()).value());
        };
        const double sd = sd_of_displaced();
        CHECK(near(sd, std::hypot(0.0081650, 0.00025516), 2e-6));
        shop.scales[""].limit_of_error = 0.2 * grain;
        CHECK(near(sd_of_displaced(), sd, 1e-9));
    }

    TEST_CASE("ordinary instruments make one bell, a coarse scale makes many") {
        const auto coil = a_coil().sample("24 in", "22.4 gr").diameters("0.85 mm 0.85 mm");
        CHECK(evidence(coil).bells.many.empty());
        Instruments kitchen = default_instruments();
        kitchen.scales[""].resolution = 1.0 * gram;
        kitchen.scales[""].limit_of_error = 0.0 * gram;
        const auto coarse = evidence_of(coil, kitchen);
        CHECK(coarse->bells.many.size() > 5);
        // The shares are of the reading, so that with an exact line they sum to its probability:
        // each bell is as high as the likelihood of ln(w/ℓ), a density of about 1/sd.
        double total = 0.0;
        for (const auto& bell : coarse->bells.all()) total += std::exp(bell.ln_share);
        CHECK(total > 0.0);
    }

    TEST_CASE("a reading without its partner says nothing yet") {
        CHECK(evidence(a_coil().reads("sample_weight", "22.4 gr")).straight.rows == 0);
        CHECK_FALSE(evidence(a_coil().reads("sink_time", "4 s")).drop.has_value());
        CHECK(evidence(a_coil().reads("submerged_weight", "15 gr")).straight.rows == 0);
    }

    TEST_CASE("an unknown scale is refused by name") {
        CoilReadings readings = a_coil().sample("24 in", "22.4 gr");
        readings.scale = "S9";
        const auto refused = evidence_of(readings, default_instruments());
        REQUIRE_FALSE(refused.has_value());
        CHECK(refused.error().field == "scale");
    }

    // Where the watch's error rules, the residual is that of the time: (read − expected) / 0.2 s.
    TEST_CASE("the drop's residual is of the time, and its slope points down the right way") {
        Instruments shop = default_instruments();
        shop.stopwatches[""].resolution = {};
        shop.stopwatches[""].repeatability = 5.0 * second;
        const auto coil =
            evidence_of(a_coil().drop("24 in", "20 s").reads("water_temperature", "10 C"), shop)
                .value();
        const LinePoint point{std::log(11.0), std::log(1.1)};
        const auto at = coil.drop_residual(point);
        const double rate = sink(line_at(point), fresh_water_at_10_C()).rate.si();
        const double expected = (24.0 * inch).si() / rate;
        CHECK(near(at.value / ((20.0 - expected) / 5.0), 1.0, 0.03));
        constexpr double step = 1e-5;
        for (int i = 0; i < 2; ++i) {
            LinePoint above = point;
            above(i) += step;
            LinePoint below = point;
            below(i) -= step;
            const double slope =
                (coil.drop_residual(above).value - coil.drop_residual(below).value) / (2.0 * step);
            CHECK(near(at.slope(i) / slope, 1.0, 0.05));
        }
    }

    TEST_CASE("a piece that weighs no less in water than in air tells no volume") {
        const auto odd =
            evidence(a_coil().sample("24 in", "22.4 gr").reads("submerged_weight", "22.6 gr"));
        CHECK(odd.straight.rows == 1);
    }
}
