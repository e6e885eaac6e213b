#include "bench/pages/bench/bench_picture.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "bench/pages/bench/a_bench.h"
#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bench_page;

TEST_SUITE("The picture of the classes") {
    TEST_CASE("a worked example: where a class of 10 grains a foot and 1.8798 g/cm3 stands") {
        // check-values.md, section 1: 10 gr/ft of 1.200 mm has 1879.75 kg/m3, so back again.
        const ReferenceLibrary library{a_class("T-10", 10.0, 1.87975)};
        const PlotView picture = picture_of(library, a_verdict(1), "A8");
        REQUIRE(picture.ellipses.size() == 1);
        CHECK(near(picture.ellipses[0].x, 1.200, 1e-4));
        CHECK(near(picture.ellipses[0].y, 10.0, 1e-9));
    }

    TEST_CASE("a worked example: spread in diameter from spreads in weight and density") {
        // ln d = ½ (ln λ − ln ρ) + …; with sd 0.03 and 0.08, uncorrelated:
        // sd ln d = ½ √(0.03² + 0.08²) = 0.042720; cov(ln d, ln λ) = ½ 0.03² = 0.00045;
        // correlation 0.00045 / (0.042720 · 0.03) = 0.35112.
        const ReferenceLibrary library{a_class("T-10", 10.0, 4.2)};
        const PlotEllipse ellipse = picture_of(library, a_verdict(1), "A8").ellipses.at(0);
        CHECK(near(ellipse.sd_ln_x, 0.042720, 1e-6));
        CHECK(near(ellipse.sd_ln_y, 0.03, 1e-9));
        CHECK(near(ellipse.correlation, 0.35112, 1e-5));
    }

    TEST_CASE("what is not listed has no place in it") {
        ReferenceLibrary library{a_class("T-11", 11.0, 4.2), a_class("unlisted", 7.0, 2.5)};
        library[1].family = Family::unlisted;
        CHECK(picture_of(library, a_verdict(2), "A8").ellipses.size() == 1);
    }

    TEST_CASE("a coil of which only the weight per foot is known is a band across") {
        const ReferenceLibrary library{a_class("T-11", 11.0, 4.2)};
        Verdict verdict = a_verdict(1);
        verdict.facts.linear_density =
            Measured<LinearDensity>{11.2 * grain_per_foot, 0.1 * grain_per_foot};
        const PlotView picture = picture_of(library, verdict, "A8");
        REQUIRE(picture.bands.size() == 1);
        CHECK(picture.bands[0].is_across);
        CHECK(near(picture.bands[0].low, 11.0, 1e-9));  // two standard deviations either way
        CHECK(near(picture.bands[0].high, 11.4, 1e-9));
    }

    TEST_CASE("the coil and the contenders fill the picture") {
        const ReferenceLibrary library{a_class("T-11", 11.0, 4.2), a_class("T-14", 14.0, 4.2)};
        Verdict verdict = a_verdict(2);
        verdict.probabilities = {0.99, 0.01};
        verdict.facts.line = LineDistribution{std::log(11.2), 0.007, std::log(3.9), 0.02, 0.0};
        const PlotView picture = picture_of(library, verdict, "A8");
        REQUIRE(picture.ellipses.back().is_own());
        CHECK(picture.ellipses.back().name == "A8");
        // T-11 from 11 exp(-2 · 0.03) to 11 exp(2 · 0.03) gr/ft and nothing else: the axis is
        // hardly longer than it must be.
        CHECK(near(picture.y.share(11.0 * std::exp(-0.06)), 0.15, 0.15));
        CHECK(near(picture.y.share(11.0 * std::exp(0.06)), 0.85, 0.15));
        CHECK(picture.y.share(14.0) > 1.0);
    }

    TEST_CASE(
        "contenders are drawn out and named; of the others only those near the coil are seen") {
        ReferenceLibrary library{a_class("T-11", 11.0, 4.2), a_class("tip", 11.0, 3.8),
                                 a_class("T-11 heavy", 11.6, 4.2), a_class("T-20", 20.0, 4.2)};
        library[1].family = Family::matched_tip;
        Verdict verdict = a_verdict(4);
        verdict.probabilities = {0.6, 0.38, 0.0199, 0.0001};
        verdict.facts.line = LineDistribution{std::log(11.1), 0.007, std::log(4.0), 0.02, 0.0};
        const PlotView picture = picture_of(library, verdict, "A8");
        REQUIRE(picture.ellipses.size() == 4);
        CHECK(picture.ellipses[0].name == "T-11");
        CHECK_FALSE(picture.ellipses[0].is_faint());
        CHECK_FALSE(picture.ellipses[1].is_faint());
        CHECK(picture.ellipses[2].name == "T-11 heavy");
        CHECK(picture.ellipses[2].is_faint());
        CHECK(picture.ellipses[3].is_own());
    }

    TEST_CASE("families differ by mark and by line, not by colour alone") {
        ReferenceClass level = a_class("a", 1, 1), tip = level, leader = level, other = level;
        tip.family = Family::matched_tip;
        leader.family = Family::sinking_leader;
        other.family.reset();
        const std::array signs{sign_of(level), sign_of(tip), sign_of(leader), sign_of(other)};
        for (std::size_t one = 0; one < signs.size(); ++one) {
            for (std::size_t two = one + 1; two < signs.size(); ++two) {
                CHECK(signs[one].mark != signs[two].mark);
                CHECK(signs[one].stroke != signs[two].stroke);
            }
        }
    }

    TEST_CASE("where nothing listed is likely, the two nearest classes show how far off they are") {
        ReferenceLibrary library{a_class("T-8", 8.0, 4.2), a_class("T-11", 11.0, 4.2),
                                 a_class("T-14", 14.0, 4.2), a_class("unlisted", 7.0, 2.5)};
        library[3].family = Family::unlisted;
        Verdict verdict = a_verdict(4);
        verdict.probabilities = {0.001, 0.001, 0.001, 0.997};
        verdict.ranking = {3, 0, 1, 2};
        verdict.facts.line = LineDistribution{std::log(13.0), 0.005, std::log(2.9), 0.01, 0.0};
        const PlotView picture = picture_of(library, verdict, "A8");
        REQUIRE(picture.ellipses.size() == 3);
        // ln 13/11 = 0.167, ln 14/13 = 0.074: T-14 is nearer, T-8 the farthest.
        CHECK(picture.ellipses[0].name == "T-14");
        CHECK(picture.ellipses[1].name == "T-11");
        CHECK_FALSE(picture.ellipses[0].is_faint());
    }

    TEST_CASE("while nothing is known every class has its place") {
        const ReferenceLibrary library{a_class("T-8", 8.0, 4.2), a_class("T-11", 11.0, 4.2)};
        Verdict verdict = a_verdict(2);
        verdict.probabilities = {0.01, 0.01};
        const PlotView picture = picture_of(library, verdict, "A8");
        CHECK(picture.ellipses.size() == 2);
        CHECK(picture.y.share(8.0) > 0.0);
        CHECK(picture.y.share(11.0) < 1.0);
    }

    TEST_CASE("a class that has learned shows where it was before") {
        ReferenceLibrary library{a_class("T-10", 10.0, 4.2), a_class("T-14", 14.0, 4.2)};
        const Verdict verdict = a_verdict(2);
        std::vector<LineDistribution> before;
        for (const auto& each : library) before.push_back(each.line);
        const auto plain = picture_of(library, verdict, "A8", before);
        const auto best = verdict.best();
        library[best].line.ln_grains_per_foot_mean += 0.05;
        library[best].confirmed = 3;
        const auto learned = picture_of(library, verdict, "A8", before);
        REQUIRE(learned.ellipses.size() == plain.ellipses.size() + 1);
        CHECK(learned.ellipses[0].readout.find("learned from 3 confirmed") != std::string::npos);
        CHECK(learned.ellipses[1].is_faint());
        CHECK(near(learned.ellipses[1].y * std::exp(0.05) / learned.ellipses[0].y, 1.0, 1e-9));
        CHECK(learned.legend.back().name == "before it learned");
    }
}
