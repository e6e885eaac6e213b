#include "bench/widgets/even_axis.h"

#include <doctest/doctest.h>

using namespace coilbook::bench;

namespace {

std::vector<std::string> labels(Axis axis, int wanted = 5) {
    std::vector<std::string> words;
    axis.spacing = Spacing::even;
    for (const Tick& tick : even_ticks(axis, wanted)) words.push_back(tick.label);
    return words;
}

}  // namespace

TEST_SUITE("An even axis") {
    TEST_CASE("it is labelled at even steps, zero among them") {
        CHECK(labels({-0.1, 0.4}) ==
              std::vector<std::string>{"-0.1", "0.0", "0.1", "0.2", "0.3", "0.4"});
        CHECK(labels({0, 1000}) ==
              std::vector<std::string>{"0", "200", "400", "600", "800", "1000"});
        CHECK(labels({-0.004, 0.004}, 4) ==
              std::vector<std::string>{"-0.004", "-0.002", "0.000", "0.002", "0.004"});
        CHECK(labels({90, 130}, 4) == std::vector<std::string>{"90", "100", "110", "120", "130"});
    }

    TEST_CASE("it holds all values with room at both ends") {
        const auto axis = even_axis_round({100, 300, 200});
        CHECK(axis.low == doctest::Approx(80));
        CHECK(axis.high == doctest::Approx(320));
        CHECK(axis.share(200) == doctest::Approx(0.5));
        CHECK(even_axis_round({40}).low == doctest::Approx(20));
        CHECK(even_axis_round({0}).high == doctest::Approx(0.5));
        CHECK(even_axis_round({}).high == 1.0);
    }
}
