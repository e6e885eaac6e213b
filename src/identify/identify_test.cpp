#include "identify/identify.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "identify/alike.h"
#include "identify/prepared_library.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

const ReferenceLibrary library = a_library();

Verdict verdict_on(const CoilReadings& readings) {
    return identify(readings, default_instruments(), library, fresh_water_at_10_C()).value();
}

std::string best_name(const Verdict& verdict) {
    return library[verdict.best()].name;
}

bool says(const Verdict& verdict, const char* words) {
    return std::ranges::any_of(verdict.because, [&](const std::string& sentence) {
        return sentence.find(words) != std::string::npos;
    });
}

}  // namespace

TEST_SUITE("Identification") {
    // 24 in of 22.4 gr are 11.2 gr/ft; with 0.85 mm the density is 4 λ/(π d²) = 4.196 g/cm3.
    TEST_CASE("a dark level coil of 11.2 grains a foot and 0.85 mm is T-11") {
        const auto verdict = verdict_on(a_coil()
                                            .sample("24 in", "22.4 gr")
                                            .diameters("0.85 mm 0.85 mm 0.85 mm")
                                            .reads("taper", "level"));
        CHECK(best_name(verdict) == "T-11");
        CHECK(verdict.grain_class.value == GrainClass{11});
        CHECK(verdict.family.value == Family::level_line);
        CHECK(verdict.density_grade.value == DensityGrade::type(7));
        CHECK_FALSE(verdict.line_size.value.has_value());
        CHECK(near(verdict.facts.density->value, 4.196 * gram_per_cubic_centimetre,
                   0.002 * gram_per_cubic_centimetre));
        CHECK(says(verdict, "T-11 and size 11 type 7 tip"));
        CHECK(says(verdict, "fish alike"));
    }

    // 11.2 gr/ft are 2.381 g/m and 7.07 in/s are 18.0 cm/s.
    TEST_CASE(
        "the reasons and the advice speak in the units that are asked for; no answer changes") {
        const PreparedLibrary prepared(library);
        const auto instruments = default_instruments();
        Identifier identifier(prepared, instruments);
        const CoilReadings known =
            a_coil().sample("24 in", "22.4 gr").diameters("0.85 mm 0.85 mm 0.85 mm");
        const CoilReadings odd = a_coil().sample("1 in", "50 gr").diameters("5 mm");
        const CoilReadings none = a_coil();
        for (const CoilReadings& readings : {known, odd, none}) {
            const auto in_feet = identifier.verdict_on(readings, {}).value();
            const auto in_metres =
                identifier.verdict_on(readings, {.units = grams_and_metres}).value();
            CHECK(in_feet.probabilities == in_metres.probabilities);
            CHECK(in_feet.because.size() == in_metres.because.size());
            for (const auto& sentence : in_metres.because) {
                for (const char* other : {" gr", "in/s", "gr/ft", " ft", " 24 in"}) {
                    CHECK_MESSAGE(sentence.find(other) == std::string::npos, sentence);
                }
            }
            for (const auto& advice : in_metres.advice) {
                CHECK_MESSAGE(advice.how.find(" 24 in") == std::string_view::npos, advice.how);
            }
        }
        const auto verdict = identifier.verdict_on(known, {.units = grams_and_metres}).value();
        CHECK(says(verdict, "It weighs 2.3811 ± 0.0073 g/m"));
        CHECK(says(verdict, " cm/s in still water."));
        CHECK(says(verdict_on(known), "It weighs 11.200 ± 0.034 gr/ft"));
    }

    TEST_CASE("without a taper reading the two names for one line are said to be ambiguous") {
        const auto verdict =
            verdict_on(a_coil().sample("24 in", "22.0 gr").diameters("0.84 mm 0.84 mm 0.84 mm"));
        CHECK(verdict.has(Flag::ambiguous));
        CHECK(verdict.density_grade.value == DensityGrade::type(7));
        CHECK(verdict.density_grade.probability > 0.9);  // the names differ, the grade does not
        REQUIRE(verdict.fishes_like.size() == 1);
    }

    TEST_CASE("a coil that fits no class is said to be unlisted") {
        const auto verdict =
            verdict_on(a_coil().sample("24 in", "36.0 gr").diameters("1.69 mm 1.70 mm 1.71 mm"));
        CHECK(best_name(verdict) == "unlisted");
        CHECK(verdict.family.value == Family::unlisted);
        CHECK(says(verdict, "fits none of the library's lines"));
    }

    TEST_CASE("a coil that floats is a floating line") {
        const auto verdict = verdict_on(a_coil().sample("10 ft", "80 gr").reads("floats", "yes"));
        CHECK(verdict.density_grade.value == DensityGrade::floating());
        CHECK_FALSE(verdict.family.value.has_value());
    }

    // 24 in of T-11 weigh 22 gr or 1.43 g; noted as 1.43 gr it would be 0.7 gr/ft.
    TEST_CASE("grams noted as grains are noticed, and the answer stays as noted") {
        const auto verdict = verdict_on(a_coil().sample("24 in", "1.43 gr").diameters("0.84 mm"));
        CHECK(verdict.has(Flag::unit_mixup));
        CHECK(says(verdict, "noted in grains, but would make sense in grams"));
        CHECK(near(verdict.facts.linear_density->value, 0.715 * grain_per_foot,
                   0.001 * grain_per_foot));
    }

    TEST_CASE("grains noted as grams are noticed too, and a right unit is left alone") {
        CHECK(verdict_on(a_coil().sample("24 in", "22 g").diameters("0.84 mm"))
                  .has(Flag::unit_mixup));
        CHECK_FALSE(verdict_on(a_coil().sample("24 in", "22 gr")).has(Flag::unit_mixup));
        CHECK_FALSE(verdict_on(a_coil().sample("24 in", "1.43 g")).has(Flag::unit_mixup));
    }

    TEST_CASE("a level coil cannot weigh two things a foot at once") {
        const auto verdict = verdict_on(
            a_coil().sample("24 in", "22 gr").whole("10 ft", "80 gr").reads("taper", "level"));
        CHECK(verdict.has(Flag::inconsistent));
        CHECK_FALSE(verdict.has(Flag::unit_mixup));  // no unit would make the two agree
    }

    TEST_CASE("a tapered coil may weigh differently at one end") {
        CHECK_FALSE(
            verdict_on(
                a_coil().sample("24 in", "16 gr").whole("10 ft", "70 gr").reads("taper", "tapered"))
                .has(Flag::inconsistent));
    }

    TEST_CASE("contradictions of other kinds are noticed") {
        CHECK(verdict_on(a_coil().drop("24 in", "4 s").reads("floats", "yes"))
                  .has(Flag::inconsistent));
        CHECK(verdict_on(a_coil().sample("24 in", "20 gr").reads("submerged_weight", "20 gr"))
                  .has(Flag::inconsistent));
        CHECK(verdict_on(a_coil().diameters("0.84 mm 1.24 mm")).has(Flag::inconsistent));
        CHECK(verdict_on(a_coil()
                             .sample("10 ft", "110 gr")
                             .diameters("0.84 mm")
                             .reads("submerged_weight", "40 gr"))
                  .has(Flag::inconsistent));
    }

    TEST_CASE("a line as dense as lead is implausible") {
        const auto verdict = verdict_on(a_coil().sample("10 ft", "110 gr").diameters("0.50 mm"));
        CHECK(verdict.has(Flag::implausible));
        CHECK(says(verdict, "above any fishing line"));
    }

    TEST_CASE("nothing read is answered, wide and without facts") {
        const auto verdict = verdict_on({});
        CHECK(verdict.has(Flag::ambiguous));
        CHECK_FALSE(verdict.facts.linear_density.has_value());
        CHECK(says(verdict, "Nothing that was read"));
    }

    TEST_CASE("half of a pair is asked to be completed") {
        CHECK(says(verdict_on(a_coil().reads("sample_weight", "22 gr")),
                   "The sample's weight says nothing yet without the sample's length."));
    }

    TEST_CASE("readings that together are no line's are refused, and the reading is named") {
        const auto refused = [](const CoilReadings& readings) {
            const auto verdict =
                identify(readings, default_instruments(), library, fresh_water_at_10_C());
            return verdict ? "" : verdict.error().field;
        };
        CHECK(refused(a_coil().sample("900 m", "0.001 gr")) == "sample_weight");
        CHECK(refused(a_coil().drop("10 ft", "0.5 s +- 0 s")) == "sink_time");
        CHECK(refused(a_coil().sample("24 in", "2 gr").reads("submerged_weight", "20 gr")) ==
              "submerged_weight");
        CHECK(refused(a_coil().diameters("0.9 mm +- 1.0 mm")) == "diameters");
        CHECK(refused(a_coil().reads("water_temperature", "10 C +- 100 C")) == "water_temperature");
    }

    TEST_CASE("what would be accepted is said in the units that are read") {
        const PreparedLibrary prepared(library);
        const auto bench = default_instruments();
        Identifier identifier(prepared, bench);
        const auto accepted = [&](const CoilReadings& readings, const Units& units) {
            const auto verdict = identifier.verdict_on(readings, {.units = units});
            return verdict ? std::string("all") : verdict.error().suggestion;
        };
        const auto heavy = a_coil().sample("60 cm", "9000 g");
        CHECK(accepted(heavy, grains_and_feet) == "0.001 to 10000 gr/ft");
        // 1 gr/ft is 0.212593 g/m, 1 in/s is 2.54 cm/s.
        CHECK(accepted(heavy, grams_and_metres) == "0.00021 to 2125.9 g/m");
        const auto fast = a_coil().drop("10 ft", "0.5 s +- 0 s");
        CHECK(accepted(fast, grains_and_feet) == "0.005 to 200 in/s");
        CHECK(accepted(fast, grams_and_metres) == "0.013 to 508 cm/s");
    }

    TEST_CASE("a reading not above its scale's offset is refused") {
        Instruments shop = default_instruments();
        shop.scales[""].offset = 2.0 * grain;
        const auto verdict =
            identify(a_coil().sample("24 in", "1.5 gr"), shop, library, fresh_water_at_10_C());
        REQUIRE_FALSE(verdict.has_value());
        CHECK(verdict.error().field == "sample_weight");
        // A weight that would fall below the offset if it were in the other unit is no mix-up.
        CHECK(identify(a_coil().sample("24 in", "22 gr"), shop, library, fresh_water_at_10_C())
                  .has_value());
    }

    TEST_CASE("no readings that are accepted break the answer, however odd") {
        std::mt19937 random(20261125);
        const auto any = [&](double low, double high) {
            const double ln =
                std::uniform_real_distribution<double>(std::log(low), std::log(high))(random);
            return fmt::format("{}", std::exp(ln));
        };
        const auto stated = [&](const std::string& unit) {
            const char* parts[] = {"", " +- 0 ", " +- 1e-9 "};
            const auto part = std::string(parts[random() % 3]);
            return " " + unit + (part.empty() ? "" : part + unit);
        };
        for (int i = 0; i < 3000; ++i) {
            auto coil = a_coil();
            const auto maybe = [&](const char* field, const std::string& text) {
                if (random() % 2) coil.reads(field, text);
            };
            maybe("sample_weight", any(1e-6, 9.0) + stated("kg"));
            maybe("sample_length", any(1e-3, 900.0) + stated("m"));
            maybe("whole_weight", any(1e-6, 9.0) + stated("kg"));
            maybe("whole_length", any(1e-3, 900.0) + stated("m"));
            maybe("diameters", any(0.01, 24.0) + stated("mm"));
            maybe("diameters", any(0.01, 24.0) + stated("mm"));
            maybe("submerged_weight", any(1e-6, 9.0) + stated("kg"));
            maybe("sink_distance", any(1e-6, 900.0) + stated("m"));
            maybe("sink_time", any(1e-6, 3000.0) + stated("s"));
            maybe("water_temperature", any(0.01, 40.0) + stated("C"));
            maybe("floats", random() % 2 ? "yes" : "no");
            maybe("taper", random() % 2 ? "level" : "tapered");
            const auto verdict =
                identify(coil, default_instruments(), library, fresh_water_at_10_C());
            if (!verdict) {
                CHECK_FALSE(verdict.error().field.empty());
                continue;
            }
            const double sum =
                std::reduce(verdict->probabilities.begin(), verdict->probabilities.end());
            CAPTURE(i);
            CHECK(near(sum, 1.0, 1e-9));
            for (const auto& advice : verdict->advice) CHECK(std::isfinite(advice.bits));
        }
    }

    TEST_CASE("a verdict that is used again is a new one, and ranks as many classes as asked") {
        const PreparedLibrary prepared(a_library());
        const auto instruments = default_instruments();
        Identifier identifier(prepared, instruments);
        Verdict used;
        const CoilReadings odd = a_coil().sample("24 in", "1.4 gr").diameters("0.9 mm 0.6 mm");
        REQUIRE(identifier.give_verdict(odd, {}, used).has_value());
        CHECK(used.has(Flag::inconsistent));
        const CoilReadings plain = a_coil().sample("24 in", "22.4 gr").diameters("0.85 mm");
        const auto whole = identifier.verdict_on(plain, {});
        REQUIRE(whole.has_value());
        for (const std::size_t ranked : {std::size_t{1}, std::size_t{2}, SIZE_MAX}) {
            REQUIRE(identifier.give_verdict(plain, {.ranked = ranked}, used).has_value());
            CHECK(used.flags == whole->flags);
            CHECK(used.probabilities == whole->probabilities);
            if (ranked == SIZE_MAX) CHECK(used.because == whole->because);
            CHECK(used.advice.size() == whole->advice.size());
            REQUIRE(used.ranking.size() == std::min(ranked, whole->ranking.size()));
            CHECK(std::equal(used.ranking.begin(), used.ranking.end(), whole->ranking.begin()));
        }
    }

    TEST_CASE("facets are sums over classes, and all probabilities sum to one") {
        std::mt19937 random(11);
        std::uniform_real_distribution<double> weight(3.0, 60.0);
        std::uniform_real_distribution<double> diameter(0.3, 2.0);
        std::uniform_real_distribution<double> time(1.0, 30.0);
        for (int i = 0; i < 200; ++i) {
            auto coil = a_coil();
            if (random() % 4) coil.sample("24 in", std::to_string(weight(random)) + " gr");
            if (random() % 2) coil.diameters(std::to_string(diameter(random)) + " mm");
            if (random() % 2) coil.drop("24 in", std::to_string(time(random)) + " s");
            if (random() % 3 == 0) coil.reads("submerged_weight", "2 gr");
            if (random() % 3 == 0) coil.reads("floats", random() % 2 ? "yes" : "no");
            if (random() % 3 == 0) coil.reads("taper", random() % 2 ? "level" : "tapered");
            const auto verdict = verdict_on(coil);
            const double sum =
                std::reduce(verdict.probabilities.begin(), verdict.probabilities.end());
            CHECK(near(sum, 1.0, 1e-9));
            double same_grade = 0.0;
            for (std::size_t k = 0; k < library.size(); ++k) {
                CHECK(std::isfinite(verdict.probabilities[k]));
                if (library[k].density_grade == verdict.density_grade.value) {
                    same_grade += verdict.probabilities[k];
                }
            }
            CHECK(near(verdict.density_grade.probability, same_grade, 1e-9));
            for (const auto& each : verdict.advice) CHECK(std::isfinite(each.bits));
        }
    }
}

TEST_SUITE("Lines that fish alike") {
    // By hand, for equal spreads: exp(−Δ²/(8 σ²)); Δ = 2 σ gives exp(−½) = 0.60653.
    TEST_CASE("two equal bells two standard deviations apart overlap by 0.60653") {
        CHECK(near(overlap(a_line(8.0, 5.0, 4.0, 5.0),
                           {std::log(8.0) + 0.1, 0.05, std::log(4.0), 0.05, 0.0}),
                   0.60653, 1e-5));
        CHECK(near(overlap(a_line(8.0, 5.0, 4.0, 5.0, 0.5), a_line(8.0, 5.0, 4.0, 5.0, 0.5)), 1.0,
                   1e-12));
    }

    TEST_CASE("the distance counts the spreads of both: 0.1 apart with 0.05 each is 1.4142") {
        // 0.1 / √(0.05² + 0.05²) = √2.
        CHECK(near(distance(a_line(8.0, 5.0, 4.0, 5.0),
                            {std::log(8.0) + 0.1, 0.05, std::log(4.0), 0.05, 0.0}),
                   1.41421, 1e-5));
        CHECK(distance(a_line(8.0, 5.0, 4.0, 5.0), a_line(8.0, 5.0, 4.0, 5.0)) == 0.0);
    }

    TEST_CASE("names do not matter, and unlisted is no line") {
        const auto t11 = fishing_like(1, library);
        REQUIRE(t11.size() == 1);
        CHECK(library[t11.front()].name == "size 11 type 7 tip");
        CHECK(fishing_like(8, library).empty());
    }
}
