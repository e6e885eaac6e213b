#include "app/instruments.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <sstream>

#include "app/bin.h"
#include "app/coil_changes.h"
#include "store/check_repository.h"
#include "store/history_repository.h"
#include "store/setting_repository.h"
#include "support/near.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

constexpr const char* weights =
    "instrument,standard [gr],standard_u [gr],reading [gr]\n"
    "S2,100,0.01,100.3\n"
    "S2,300,0.02,300.2\n"
    "S2,100,0.01,100.2\n"
    "S2,100,0.01,100.3\n"
    "S2,300,0.02,300.3\n"
    "S2,300,0.02,300.2\n";

void take_in(Workshop& workshop, const char* file) {
    const TemporaryFolder folder;
    write_bytes(folder / "shop.csv", file);
    REQUIRE(take_in_instruments(workshop, folder / "shop.csv").has_value());
}

struct Checked {
    bool is_done;
    std::string out;
    std::string problem;
};
Checked check(Workshop& workshop, const std::string& text, Format format = Format::csv) {
    std::istringstream file(text);
    std::ostringstream out;
    const auto done = check_instruments(workshop, file, "c.csv", out, format);
    return {done.has_value(), out.str(), done ? "" : to_line(done.error().front())};
}

std::string list(Workshop& workshop) {
    std::ostringstream out;
    list_instruments(workshop, out, Format::csv);
    return out.str();
}

}  // namespace

TEST_SUITE("The bench's instruments") {
    // Six readings: 0.3 0.2 0.3 and 0.2 0.3 0.2 too high, mean 0.25; pooled s = √(2 · 0.0066667 /
    // 4) = 0.0577350.
    TEST_CASE("a check of a scale puts its offset right, and is kept") {
        auto workshop = workshop_in_memory();
        take_in(workshop, "code,kind,resolution,limit_of_error\nS2,scale,0.1 gr,0.2 gr\n");
        CHECK(workshop.instruments().scales.at("S2").offset == Mass{});
        says(list(workshop), "\nscale,S2,gr,0.1");
        says(list(workshop), ",never checked\n");
        const auto acts = workshop.catalogue().history().list().size();

        const auto found = check(workshop, weights);
        REQUIRE(found.is_done);
        CHECK(found.out.starts_with(
            "kind,instrument,unit,standards,readings,offset,offset_u,offset_95,repeatability,"
            "repeatability_u,chi_square,chance,stretch_percent,stretch_percent_u\nscale,S2,gr,2,"
            "6,"));
        const auto scale = workshop.instruments().scales.at("S2");
        CHECK(near(scale.offset, 0.25 * grain, 0.02 * grain));
        CHECK(near(scale.repeatability, 0.057735 * grain, 1e-5 * grain));
        CHECK(scale.offset_uncertainty < 0.05 * grain);
        CHECK(scale.limit_of_error == Mass{});
        CHECK(workshop.catalogue().history().list().size() == acts + 1);
        const auto kept = workshop.catalogue().checks().last_checks();
        REQUIRE(kept.size() == 1);
        CHECK(kept[0].as_written.starts_with("100 gr,0.01 gr,100.3 gr\n300 gr,"));
        says(list(workshop), ",checked\n");

        // Verdicts reckon with it: 22.4 on this scale are 22.15 gr.
        const auto coil = add_coil(workshop, "A7").value();
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, "22.4 gr", {}, "S2"));
    }

    TEST_CASE("a file does not wipe what a check has found") {
        auto workshop = workshop_in_memory();
        const char* const file = "code,kind,resolution,limit_of_error\nS2,scale,0.1 gr,0.2 gr\n";
        take_in(workshop, file);
        REQUIRE(check(workshop, weights).is_done);
        const auto found = workshop.instruments().scales.at("S2");
        const TemporaryFolder folder;
        write_bytes(folder / "shop.csv", file);
        const auto again = take_in_instruments(workshop, folder / "shop.csv");
        REQUIRE_FALSE(again.has_value());
        says(to_line(again.error().front()), "S2: its figures come from the check of ");
        CHECK(workshop.instruments().scales.at("S2") == found);
    }

    TEST_CASE("a table says in words what a check means") {
        auto workshop = workshop_in_memory();
        take_in(workshop, "code,kind,resolution\nS2,scale,0.1 gr\n");
        const auto table = check(workshop, weights, Format::table).out;
        says(table, "scale S2");
        says(table, "it is off, and readings are put right from now on");
        // 0.2 % of stretch: 100 reads 100.2, 500 reads 501.0, 1000 reads 1002.0.
        const auto stretched = check(workshop,
                                     "instrument,standard,standard_u,reading\n"
                                     "S2,100 gr,0.01 gr,100.2 gr\nS2,500 gr,0.01 gr,501.0 gr\n"
                                     "S2,1000 gr,0.01 gr,1002.0 gr\n",
                                     Format::table)
                                   .out;
        says(stretched, "one offset does not fit all standards; its scale is off by 0.200");
    }

    TEST_CASE("a check that cannot be right changes nothing") {
        auto workshop = workshop_in_memory();
        const auto before = workshop.instruments();
        const auto problem_of = [&](const char* row) {
            const auto outcome =
                check(workshop, std::string("instrument,kind,standard,standard_u,reading\n") + row);
            CHECK_FALSE(outcome.is_done);
            CHECK(outcome.out.empty());
            return outcome.problem;
        };
        says(problem_of("S9,,1 gr,0.01 gr,1 gr\n"), "c.csv:2: instrument: 'S9' is not in");
        says(problem_of(",,1 mm,0.01 mm,1 mm\n"), "may be a tape or a micrometer");
        says(problem_of(",scale,1 mm,0.01 mm,1 mm\n"), "does not show such quantities");
        says(problem_of(",stopwatch,1 s,0 gr,1 s\n"), "standard's kind");
        says(problem_of(""), "there are no readings");
        CHECK(workshop.instruments() == before);
        CHECK(check(workshop,
                    "instrument,kind,standard,standard_u,reading\n"
                    ",micrometer,1 mm,0.001 mm,1.002 mm\n")
                  .is_done);
        CHECK(near(workshop.instruments().micrometers.at("").offset, 0.002 * millimetre,
                   1e-9 * millimetre));
    }

    TEST_CASE("a check runs out after a year, or what the catalogue says") {
        auto now = instant_from_text("2026-01-01T00:00:00Z").value();
        auto surroundings = foretold_surroundings();
        surroundings.now = [&] { return now; };
        auto workshop = Workshop::in_memory(surroundings);
        REQUIRE(check(workshop, "instrument,standard,standard_u,reading\n,100 gr,0.01 gr,100 gr\n")
                    .is_done);
        now += std::chrono::days{300};
        CHECK_FALSE(mentions(list(workshop), "check again"));
        now += std::chrono::days{66};
        says(list(workshop), ",check again\n");
        REQUIRE(workshop.catalogue().act(workshop.note("set"), [&](store::Act& act) {
            return workshop.catalogue().settings().put(act, "instrument_check_days", "500");
        }));
        CHECK_FALSE(mentions(list(workshop), "check again"));
    }

    // Coils of 11 to 12 gr/ft and 4 g/cm3 on a micrometer that reads 0.02 mm too low on coatings.
    TEST_CASE("the squeeze on soft coatings is found from coils weighed under water") {
        auto workshop = workshop_in_memory();
        std::mt19937_64 random(6);
        std::normal_distribution<double> normal;
        CHECK_FALSE(check_on_coatings(workshop, "").has_value());
        CHECK_FALSE(check_on_coatings(workshop, "M7").has_value());
        for (int i = 0; i < 10; ++i) {
            const double grains = 10.0 * (11.0 + 0.1 * i);  // of 10 ft
            const double rho = 4.0;
            const auto in_grains = [](double g) { return std::to_string(g) + " gr"; };
            const double area = (grains / 10.0) * (grain_per_foot.si()) / (rho * 1000.0);
            const double truly = std::sqrt(4.0 * area / std::numbers::pi) * 1000.0;
            const auto coil = add_coil(workshop, "A" + std::to_string(i)).value();
            const auto read = [&](ReadingField field, const std::string& text) {
                REQUIRE(record_reading(workshop, coil, field, text).has_value());
            };
            read(ReadingField::sample_length, "10 ft");
            read(ReadingField::sample_weight, in_grains(grains + 0.03 * normal(random)));
            read(ReadingField::submerged_weight,
                 in_grains(grains * (1.0 - 0.99970 / rho) + 0.03 * normal(random)));
            read(ReadingField::diameters,
                 std::to_string(truly - 0.020 + 0.002 * normal(random)) + " mm");
        }
        // One more was measured with the micrometer alone.
        const auto other = add_coil(workshop, "B").value();
        REQUIRE(record_reading(workshop, other, ReadingField::diameters, "0.80 mm").has_value());
        const auto diameter = [&] {
            Bin bin;
            bin.refresh(workshop);
            return bin.verdict(bin.find(other.id).value()).facts.diameter.value();
        };
        const auto before = diameter();
        const auto found = check_on_coatings(workshop, "");
        REQUIRE(found.has_value());
        CHECK(near(diameter().value - before.value, 0.020 * millimetre, 0.004 * millimetre));
        CHECK(diameter().uncertainty < 0.75 * before.uncertainty);
        says(*found, "10 coils it reads too low by 0.0");
        const auto micrometer = workshop.instruments().micrometers.at("");
        CHECK(near(micrometer.offset, -0.020 * millimetre, 0.004 * millimetre));
        CHECK(micrometer.limit_of_error == Length{});
        CHECK(micrometer.coating_uncertainty < 0.007 * millimetre);
        // Doing it again gives the same: the raw readings count, not the corrected ones.
        const auto again = check_on_coatings(workshop, "");
        CHECK(again == found);
        says(list(workshop), "micrometer,,mm,");
    }
}

TEST_SUITE("A study of readings") {
    std::string studied(const std::string& text, Format format) {
        std::istringstream file(text);
        std::ostringstream out;
        const auto done = study_readings(file, "s.csv", out, format);
        return done ? out.str() : to_line(done.error().front());
    }

    TEST_CASE("what two people read on three coils, in words a tired guide understands") {
        std::string text = "coil,person,reading [mm]\n";
        for (const auto& [coil, mm] : {std::pair{"A", 0.80}, {"B", 0.90}, {"C", 1.00}}) {
            for (const auto& [person, off] : {std::pair{"Ann", 0.0}, {"Bob", 0.004}}) {
                for (const double again : {-0.002, 0.002}) {
                    text += std::string(coil) + "," + person + "," +
                            std::to_string(mm + off + again) + "\n";
                }
            }
        }
        const auto table = studied(text, Format::table);
        says(table, "One person who reads the same coil again is off by 0.0");
        says(table, "One person differs from another by 0.0");
        says(table, "This is good enough");
        const auto csv = studied(text, Format::csv);
        CHECK(csv.starts_with("part,standard_deviation,unit,percent_of_spread\nrepeatability,0.0"));
        // Coils 0.1 apart: √(0.1² − …) is 0.1 to a per cent.
        says(csv, "\ncoils,0.099");
        says(csv, "\ntotal,0.100");
    }

    TEST_CASE("a study with holes is refused with the hole named") {
        says(studied("coil,person,reading\nA,Ann,1 mm\nA,Ann,1 mm\nB,Bob,1 mm\nB,Bob,1 mm\n",
                     Format::csv),
             "did not read coil");
        says(studied("coil,person,reading\nA,Ann,10 C\n", Format::csv), "no temperature");
        says(studied("coil,person,reading\n", Format::csv), "no readings");
    }
}
