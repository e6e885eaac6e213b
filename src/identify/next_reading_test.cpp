#include "identify/next_reading.h"

#include <doctest/doctest.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "identify/identify.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

std::vector<ReadingAdvice> advice_on(const CoilReadings& readings) {
    return identify(readings, default_instruments(), a_library(), fresh_water_at_10_C())->advice;
}

bool offers(const std::vector<ReadingAdvice>& advice, ReadingField field) {
    return std::ranges::count(advice, field, &ReadingAdvice::field) > 0;
}

}  // namespace

TEST_SUITE("The next reading") {
    TEST_CASE("a coil of which nothing is known is weighed or gauged first, not looked at") {
        const auto advice = advice_on({});
        REQUIRE_FALSE(advice.empty());
        const auto first = {ReadingField::sample_weight, ReadingField::diameters};
        CHECK(std::ranges::count(first, advice.front().field) == 1);
        CHECK_FALSE(offers(advice, ReadingField::submerged_weight));  // nothing weighed in air yet
    }

    TEST_CASE("a weighed coil of seven grains a foot is told apart by its thickness") {
        // Intermediate, type 3 and type 6 tips of one size weigh alike.
        const auto advice = advice_on(a_coil().sample("24 in", "14.0 gr"));
        REQUIRE_FALSE(advice.empty());
        const auto dense = {ReadingField::diameters, ReadingField::submerged_weight};
        CHECK(std::ranges::count(dense, advice.front().field) == 1);
        CHECK(advice.front().bits > 0.8);
    }

    TEST_CASE("a tip and a level line that fish alike are told apart by feeling the taper") {
        const auto advice =
            advice_on(a_coil().sample("10 ft", "110 gr").diameters("0.84 mm 0.84 mm 0.84 mm"));
        REQUIRE_FALSE(advice.empty());
        const auto soft = {ReadingField::taper, ReadingField::whole_length};
        CHECK(std::ranges::count(soft, advice.front().field) == 1);
    }

    TEST_CASE("no reading is offered that was taken") {
        const auto advice = advice_on(a_coil()
                                          .sample("15 ft", "165 gr")
                                          .diameters("0.84 mm 0.84 mm")
                                          .reads("taper", "level")
                                          .reads("tint", "dark")
                                          .reads("floats", "no"));
        for (const auto field : {ReadingField::diameters, ReadingField::taper, ReadingField::tint,
                                 ReadingField::floats}) {
            CHECK_FALSE(offers(advice, field));
        }
    }

    // Brute force: draws the class, the line and the reading, asks the whole engine again with the
    // reading added, and averages how much surer of the class it has become. The tint's answers and
    // the drop's time are drawn as the model has them.
    TEST_CASE("the bits foretold are the bits gained, by brute force") {
        const auto library = a_library();
        const PreparedLibrary prepared(library);
        const auto instruments = default_instruments();
        Posterior posterior(prepared);
        Posterior again(prepared);
        std::mt19937 random(20261125);
        std::normal_distribution<double> normal;
        const CoilReadings readings = a_coil().sample("24 in", "14.0 gr");
        const auto evidence = evidence_of(readings, instruments).value();
        posterior.take_up(evidence);
        const auto outlook =
            further_readings(readings, evidence, instruments, prepared, posterior, {});
        const std::vector<double> before(posterior.probabilities().begin(),
                                         posterior.probabilities().end());
        std::discrete_distribution<std::size_t> class_of(before.begin(), before.end());
        const auto gained = [&](const auto& read) {
            double bits = 0.0;
            constexpr int draws = 4000;
            for (int i = 0; i < draws; ++i) {
                const auto k = class_of(random);
                const auto line = posterior.line_of(k);
                const Eigen::Matrix2d root = line.covariance.llt().matrixL();
                const LinePoint point =
                    line.mean + root * LinePoint(normal(random), normal(random));
                CoilReadings more = readings;
                if (!read(more, k, point)) continue;
                const auto evidence_then = evidence_of(more, instruments);
                if (!evidence_then) continue;
                again.take_up(*evidence_then);
                bits += std::log2(again.probabilities()[k] / before[k]) / draws;
            }
            return bits;
        };
        const auto foretold = [&](ReadingField field) {
            for (const auto& each : outlook.advice) {
                if (each.field == field) return each.bits;
            }
            return 0.0;
        };
        std::uniform_real_distribution<double> rectangle(-1.0, 1.0);
        const double diameters =
            gained([&](CoilReadings& more, std::size_t, const LinePoint& point) {
                const auto& micrometer = instruments.micrometers.at("");
                const Length d = line_at(point).diameter +
                                 normal(random) * soft_coating_uncertainty +
                                 rectangle(random) * micrometer.limit_of_error;
                more.diameters.assign(3, {d, {}});
                return true;
            });
        CHECK(near(diameters, foretold(ReadingField::diameters), 0.06));
        const double tint = gained([&](CoilReadings& more, std::size_t k, const LinePoint&) {
            std::discrete_distribution<std::size_t> answer(library[k].tints.begin(),
                                                           library[k].tints.end());
            more.tint = static_cast<Tint>(answer(random));
            return true;
        });
        CHECK(near(tint, foretold(ReadingField::tint), 0.06));
        const double submerged =
            gained([&](CoilReadings& more, std::size_t, const LinePoint& point) {
                const auto& scale = instruments.scales.at("");
                const Mass displaced =
                    more.sample_weight->value * (evidence.water.density / density(line_at(point)));
                const Mass error = (rectangle(random) - rectangle(random)) * 0.5 * scale.resolution;
                more.submerged_weight = {more.sample_weight->value - displaced + error, {}};
                return true;
            });
        CHECK(near(submerged, foretold(ReadingField::submerged_weight), 0.06));
    }

    TEST_CASE("it is enough when nothing could change the answer, and only then") {
        const auto sure = identify(a_coil()
                                       .sample("10 ft", "140 gr")
                                       .diameters("0.95 mm 0.95 mm 0.95 mm")
                                       .reads("taper", "level")
                                       .reads("tint", "dark"),
                                   default_instruments(), a_library(), fresh_water_at_10_C());
        CHECK(sure->enough);
        const auto unsure = identify(a_coil().sample("24 in", "14.0 gr"), default_instruments(),
                                     a_library(), fresh_water_at_10_C());
        CHECK_FALSE(unsure->enough);
    }

    TEST_CASE("who asks only for the grain class is told less about telling names apart") {
        const auto library = a_library();
        const PreparedLibrary prepared(library);
        const auto instruments = default_instruments();
        Identifier identifier(prepared, instruments);
        // An 11-grain line of 4.2 g/cm3: T-11 or the size 11 type 7 tip, told apart by the taper.
        const CoilReadings coil =
            a_coil().sample("10 ft", "110 gr").diameters("0.84 mm 0.84 mm 0.84 mm");
        const auto bits_of_taper = [&](Question question) {
            const auto verdict = identifier.verdict_on(coil, {.question = question});
            for (const auto& each : verdict->advice) {
                if (each.field == ReadingField::taper) return each.bits;
            }
            return 0.0;
        };
        CHECK(bits_of_taper({Answer::line}) > 0.2);
        CHECK(near(bits_of_taper({Answer::grain_class}), bits_of_taper({Answer::line}), 0.05));
        // Both are the same line in the water, so the taper says nothing on whether it is that.
        CHECK(bits_of_taper({Answer::fishes_like, 1}) < 0.05);
    }

    TEST_CASE("by time, a quick look comes before a slow weighing that tells a little more") {
        const auto library = a_library();
        const PreparedLibrary prepared(library);
        const auto instruments = default_instruments();
        Identifier identifier(prepared, instruments);
        const CoilReadings coil = a_coil().sample("24 in", "14.0 gr");
        Question question;
        question.by_time = true;
        const auto verdict = identifier.verdict_on(coil, {.question = question});
        REQUIRE(verdict->advice.size() > 1);
        for (std::size_t i = 1; i < verdict->advice.size(); ++i) {
            CHECK(verdict->advice[i - 1].bits_per_minute() >= verdict->advice[i].bits_per_minute());
        }
        CHECK(verdict->advice.front().field == ReadingField::tint);
    }

    TEST_CASE("asked for the best one only, it is the first of all, to the last digit") {
        const auto library = a_library();
        const PreparedLibrary prepared(library);
        const auto instruments = default_instruments();
        Identifier identifier(prepared, instruments);
        std::mt19937 random(20261125);
        std::uniform_real_distribution<double> uniform;
        int told = 0;
        for (int i = 0; i < 300; ++i) {
            CoilReadings coil;
            const double weight = 2.0 * std::exp(0.7 + 2.3 * uniform(random));
            const double density = std::exp(1.6 * uniform(random));
            const double diameter = std::sqrt(weight / 2.0 / density) * 0.5203;  // 1 gr/ft, 1 g/cm3
            const double more = uniform(random);
            if (more > 0.1) {
                coil.sample_length = {24.0 * inch, {}};
                coil.sample_weight = {weight * grain, {}};
            }
            if (more < 0.8) coil.diameters = {{diameter * millimetre, {}}};
            if (more > 0.4 && more < 0.6) coil.tint = Tint::black;
            if (more > 0.5 && more < 0.7) coil.taper = Taper::tapered;
            Question question;
            question.by_time = i % 3 == 1;
            if (i % 5 == 0) question.answer = Answer::grain_class;
            const auto all = identifier.verdict_on(coil, {.question = question});
            const auto best =
                identifier.verdict_on(coil, {.question = question, .advice = Advice::the_best});
            REQUIRE(all.has_value());
            REQUIRE(best.has_value());
            CAPTURE(i);
            REQUIRE(best->advice.size() == std::min<std::size_t>(all->advice.size(), 1));
            if (all->advice.empty()) continue;
            ++told;
            REQUIRE(best->advice[0].field == all->advice[0].field);
            REQUIRE(best->advice[0].bits == all->advice[0].bits);
            REQUIRE(best->advice[0].chance_of_change == all->advice[0].chance_of_change);
        }
        CHECK(told > 100);
    }
}
