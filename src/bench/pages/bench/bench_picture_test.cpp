#include "bench/pages/bench/bench_picture.h"

#include <doctest/doctest.h>

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

    TEST_CASE("a coil that is fully known is in the middle of the picture") {
        const ReferenceLibrary library{a_class("T-11", 11.0, 4.2)};
        Verdict verdict = a_verdict(1);
        verdict.facts.line = LineDistribution{std::log(11.2), 0.007, std::log(3.4), 0.02, 0.0};
        const PlotView picture = picture_of(library, verdict, "A8");
        REQUIRE(picture.ellipses.back().own);
        CHECK(near(picture.y.share(11.2), 0.5, 1e-6));
        CHECK(near(picture.x.share(picture.ellipses.back().x), 0.5, 1e-6));
    }
}
