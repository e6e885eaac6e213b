#include "app/instruments.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <sstream>

#include "app/bin.h"
#include "app/coil_changes.h"
#include "app/instrument_changes.h"
#include "app/instrument_check.h"
#include "app/instrument_coatings.h"
#include "store/check_repository.h"
#include "store/setting_repository.h"
#include "support/instrument_checks.h"
#include "support/near.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// What is known of one of them, in words.
InstrumentInWords words(Workshop& workshop, const InstrumentKey& key) {
    for (const auto& known : known_instruments(workshop)) {
        if (known.key == key) return in_words(known, workshop.surroundings().now());
    }
    return {};
}

}  // namespace

TEST_SUITE("The bench's instruments") {
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
        // One more lacks the weighing under water, and one was measured with the micrometer alone.
        const auto dry = add_coil(workshop, "C").value();
        REQUIRE(record_reading(workshop, dry, ReadingField::diameters, "0.80 mm").has_value());
        REQUIRE(record_reading(workshop, dry, ReadingField::sample_length, "10 ft").has_value());
        REQUIRE(record_reading(workshop, dry, ReadingField::sample_weight, "110 gr").has_value());
        const auto other = add_coil(workshop, "B").value();
        REQUIRE(record_reading(workshop, other, ReadingField::diameters, "0.80 mm").has_value());
        const auto diameter = [&] {
            Bin bin;
            bin.refresh(workshop);
            return bin.verdict(bin.find(other.id).value()).facts.diameter.value();
        };
        const auto before = diameter();
        const auto coils = coated_coils(workshop, "").value();
        CHECK(coils.usable.size() == 10);
        CHECK(coils.lack_of_water == std::vector<std::string>{"C"});
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

    TEST_CASE("what is known of an instrument is told in words") {
        auto now = instant_from_text("2026-03-12T00:00:00Z").value();
        auto surroundings = foretold_surroundings();
        surroundings.now = [&] { return now; };
        auto workshop = Workshop::in_memory(surroundings);
        const InstrumentKey key{InstrumentKind::scale, ""};
        CHECK(words(workshop, key).reads == "never checked: the figures of an ordinary one count");
        CHECK(words(workshop, key).checked.empty());
        says(words(workshop, key).shows, "shows steps of 0.10 gr, good to ± 0.10 gr");
        says(words(workshop, {InstrumentKind::micrometer, ""}).on_soft, "± 0.010 mm is reckoned");
        REQUIRE(check(workshop,
                      "instrument,standard,standard_u,reading\n,100 gr,0.01 gr,100.3 gr\n,100 "
                      "gr,0.01 gr,100.3 gr\n")
                    .is_done);
        CHECK(words(workshop, key).reads == "reads 0.300 ± 0.031 gr too much");
        CHECK(words(workshop, key).checked ==
              "last checked 12 March 2026; check again in 12 months");
        now += std::chrono::days{275};
        CHECK(words(workshop, key).checked ==
              "last checked 12 March 2026; check again in 2 months");
        now += std::chrono::days{91};
        says(words(workshop, key).checked, "12 March 2026, too long ago: check it again");
        const auto known = known_instruments(workshop);
        CHECK(known.size() == 5);
        CHECK(known.front().state == CheckState::again);
        CHECK(known.back().state == CheckState::never);
    }
}
