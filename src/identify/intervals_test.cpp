#include "identify/intervals.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "line/sink_rate.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

LineBelief belief_in(const CoilReadings& readings, const ReferenceLibrary& library,
                     const Instruments& instruments = default_instruments()) {
    const auto evidence = evidence_of(readings, instruments).value();
    const PreparedLibrary prepared(library);
    Posterior posterior(prepared);
    posterior.take_up(evidence);
    return line_belief(evidence, error_shapes(readings, instruments), posterior,
                       fresh_water_at_10_C());
}

// One broad class, so that the readings alone count; an unlisted one that nobody believes in.
ReferenceLibrary one_broad_class() {
    auto library = a_library();
    auto broad = library.front();
    broad.line = a_line(9.0, 60.0, 3.0, 50.0);
    auto unlisted = library.back();
    unlisted.weight = 1e-12;
    return {broad, unlisted};
}

}  // namespace

TEST_SUITE("Intervals") {
    TEST_CASE("quantiles of a mixture of three are those of a general-purpose library") {
        // Root of the sum of normal distribution functions, scipy 1.10.1: brentq over norm.cdf.
        const std::vector<NormalPart> parts{{0.6, 0.0, 1.0}, {0.3, 2.5, 0.2}, {0.1, -4.0, 3.0}};
        CHECK(near(mixture_quantile(parts, 0.025), -6.0234692989, 1e-6));
        CHECK(near(mixture_quantile(parts, 0.25), -0.6082256163, 1e-6));
        CHECK(near(mixture_quantile(parts, 0.5), 0.4623222311, 1e-6));
        CHECK(near(mixture_quantile(parts, 0.9), 2.5939939530, 1e-6));
        CHECK(near(mixture_quantile(parts, 0.975), 2.7891690809, 1e-6));
    }

    TEST_CASE("one normal part has the quantiles of the tables") {
        const std::vector<NormalPart> part{{1.0, 10.0, 2.0}};
        CHECK(near(mixture_quantile(part, 0.975), 10.0 + 2.0 * 1.959964, 1e-5));
        CHECK(near(mixture_quantile(part, 0.5), 10.0, 1e-5));
    }

    TEST_CASE("a weighed and measured coil: within two standard uncertainties, 95 of 100 times") {
        // 24 in of 22 gr: scale ±0.1 gr and rounding ±0.05 gr, tape ±1/32 in twice, all rectangles.
        // 95 of 100 such errors are below 0.581 % (4 million drawn with numpy; a normal error of
        // the same 0.312 % would say 0.612 %).
        const auto belief =
            belief_in(a_coil().sample("24 in", "22 gr").diameters("0.83 mm"), one_broad_class());
        const auto bounds = central_intervals(belief, 0.95);
        CHECK(near(bounds.weight_per_length.low, 11.0 * std::exp(-0.00581) * grain_per_foot,
                   0.001 * grain_per_foot));
        CHECK(near(bounds.weight_per_length.high, 11.0 * std::exp(0.00581) * grain_per_foot,
                   0.001 * grain_per_foot));
        // 0.010 mm of soft coating and 0.0023 mm of the micrometer: 0.01027 mm.
        CHECK(near(bounds.diameter.low, 0.83 * std::exp(-1.96 * 0.01027 / 0.83) * millimetre,
                   0.001 * millimetre));
        const auto half = central_intervals(belief, 0.5);
        CHECK(half.density.low > bounds.density.low);
        CHECK(half.density.high < bounds.density.high);
        CHECK(half.density.holds(density({11.0 * grain_per_foot, 0.83 * millimetre})));
    }

    TEST_CASE("a scale right within a limit: half of the coils lie within half of the limit") {
        // 1 gr of 22 gr is 4.545 %; rounding of 0.01 gr and an exact tape are nothing beside it. A
        // normal error of that standard uncertainty, 2.62 %, would say 0.674 times that, 1.77 %.
        auto instruments = default_instruments();
        instruments.scales[""].limit_of_error = 1.0 * grain;
        instruments.scales[""].resolution = 0.01 * grain;
        instruments.tapes[""].limit_of_error = 0.001 * inch;
        instruments.tapes[""].resolution = 0.001 * inch;
        const auto belief =
            belief_in(a_coil().sample("24 in", "22 gr"), one_broad_class(), instruments);
        const auto half = central_intervals(belief, 0.5);
        const auto off = [&](LinearDensity bound) {
            return std::log(bound / (11.0 * grain_per_foot));
        };
        // The class's normal density cut to ln(21 / 22) ... ln(23 / 22), summed with numpy.
        CHECK(near(off(half.weight_per_length.low), -0.02419, 0.0006));
        CHECK(near(off(half.weight_per_length.high), 0.02126, 0.0006));
        // And nearly all of them within the limit.
        const auto most = central_intervals(belief, 0.95);
        CHECK(near(off(most.weight_per_length.low), -0.04430, 0.001));
        CHECK(near(off(most.weight_per_length.high), 0.04212, 0.001));
        // A normal one would have one in a hundred beyond 2.576 of them, 6.8 %.
        const auto all = central_intervals(belief, 0.99);
        CHECK(off(all.weight_per_length.high) < 0.048);
    }

    TEST_CASE("a class that is far narrower than the rectangle decides by itself") {
        // T-11 to 3 % and a scale right within 6 gr of 22 gr: the middle of the rectangle is flat,
        // so the interval is nearly the class's own, normal one.
        auto instruments = default_instruments();
        instruments.scales[""].limit_of_error = 6.0 * grain;
        ReferenceLibrary library{a_library()[1], a_library().back()};
        library.back().weight = 1e-12;
        const auto bounds = central_intervals(
            belief_in(a_coil().sample("24 in", "22 gr"), library, instruments), 0.5);
        CHECK(near(std::log(bounds.weight_per_length.high / (11.0 * grain_per_foot)), 0.6745 * 0.03,
                   0.001));
    }

    TEST_CASE("two grades that explain a coil equally leave an interval that holds both") {
        auto library = a_library();
        const auto belief = belief_in(a_coil().sample("24 in", "14 gr"), library);
        const auto bounds = central_intervals(belief, 0.9);
        CHECK(bounds.density.holds(1.12 * gram_per_cubic_centimetre));
        CHECK(bounds.density.holds(4.6 * gram_per_cubic_centimetre));
    }

    TEST_CASE("the drag law's error counts where no drop was timed, and shrinks where one was") {
        const auto dry = a_coil().sample("24 in", "22 gr").diameters("0.83 mm").readings();
        auto wet = dry;
        put(wet, ReadingField::sink_distance, Stated<Length>{100.0 * inch, 0.001 * inch});
        const Speed rate =
            sink({11.0 * grain_per_foot, 0.83 * millimetre}, fresh_water_at_10_C()).rate;
        put(wet, ReadingField::sink_time, Stated<Duration>{100.0 * inch / rate, 0.001 * second});
        put(wet, ReadingField::water_temperature,
            Stated<Temperature>{Temperature::from_celsius(10.0),
                                TemperatureDifference::from_kelvin(0.01)});
        const auto width = [](const CoilReadings& readings) {
            const auto bounds = central_intervals(belief_in(readings, one_broad_class()), 0.95);
            return (bounds.sink_rate.high - bounds.sink_rate.low).in(inch_per_second);
        };
        // 7.4 in/s: 2.8 % of drag law and about 1.5 % of diameter, four of them; with the drop,
        // next to nothing, for the fished water is the drop's.
        CHECK(width(dry) > 0.6);
        CHECK(width(dry) < 1.2);
        CHECK(width(wet) < 0.01);
    }

    TEST_CASE("after a drop the sink rate's interval is what brute force gives") {
        // Lines and drag errors drawn around the answer, weighed by how well they explain readings
        // that were taken in water of 18 °C; the rate wanted is in water of 10 °C.
        const auto readings = a_coil()
                                  .sample("24 in", "22 gr")
                                  .diameters("0.83 mm")
                                  .drop("48 in", "6.2 s")
                                  .reads("water_temperature", "18 C")
                                  .readings();
        const auto library = one_broad_class();
        const auto evidence = evidence_of(readings, default_instruments()).value();
        const auto& drop = evidence.drop.value();
        auto straight_only = evidence;
        straight_only.drop.reset();
        const auto line = update(gaussian_of(library.front().line), straight_only).line;
        const double sxx = std::sqrt(line.covariance(0, 0));
        const double slope = line.covariance(0, 1) / line.covariance(0, 0);
        const double rest = std::sqrt(line.covariance(1, 1) - slope * line.covariance(0, 1));
        std::mt19937 random(5);
        std::normal_distribution<double> normal;
        std::vector<std::pair<double, double>> drawn;  // rate, weight
        double total = 0.0;
        for (int i = 0; i < 100'000; ++i) {
            const double a = normal(random);
            const LinePoint point{line.mean.x() + sxx * a,
                                  line.mean.y() + slope * sxx * a + rest * normal(random)};
            const double drag = drop.drag_sd * normal(random);
            const double off =
                (drop.ln_rate - ln_sink_rate(point, drop.water).value - drag) / drop.reading_sd();
            const double weight = std::exp(-0.5 * off * off);
            drawn.emplace_back(
                sink(line_at(point), fresh_water_at_10_C()).rate.si() * std::exp(drag), weight);
            total += weight;
        }
        std::ranges::sort(drawn);
        const auto quantile = [&](double share) {
            double sum = 0.0;
            for (const auto& [rate, weight] : drawn) {
                sum += weight;
                if (sum >= share * total) return Speed::from_si(rate);
            }
            return Speed::from_si(drawn.back().first);
        };
        const auto bounds = central_intervals(belief_in(readings, library), 0.9);
        CHECK(near(bounds.sink_rate.low, quantile(0.05), 0.02 * inch_per_second));
        CHECK(near(bounds.sink_rate.high, quantile(0.95), 0.02 * inch_per_second));
    }

    TEST_CASE("a line that rises has a sink rate below zero") {
        const auto belief =
            belief_in(a_coil().sample("24 in", "15 gr").diameters("1.5 mm"), one_broad_class());
        CHECK(central_intervals(belief, 0.5).sink_rate.high < Speed{});
    }
}
