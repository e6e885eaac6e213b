#include "app/codes.h"

#include <doctest/doctest.h>

#include <set>

#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/rigs.h"
#include "app/undo.h"
#include "catalog/given_code.h"
#include "store/coil_repository.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// A workshop whose lots fall on these numbers, and on the last one for ever.
Workshop workshop_with_lots(std::vector<std::uint64_t> numbers) {
    auto surroundings = foretold_surroundings();
    const auto ids = surroundings.random;
    const auto at = std::make_shared<std::size_t>(0);
    const auto is_on = std::make_shared<bool>(true);
    surroundings.random = [=]() mutable {
        auto bytes = ids();
        if (!*is_on) return bytes;
        const auto number = numbers[std::min(*at, numbers.size() - 1)];
        ++*at;
        for (std::size_t place = 0; place < 8; ++place) {
            bytes[place] = static_cast<std::uint8_t>(number >> (8 * (7 - place)));
        }
        return bytes;
    };
    return Workshop::in_memory(std::move(surroundings));
}

}  // namespace

TEST_SUITE("Codes in a catalogue") {
    TEST_CASE("a code is given once, even if its coil was undone or retired") {
        auto workshop = workshop_with_lots({99, 5, 5, 5, 6, 6, 6, 7, 8});
        // The first lots went into the id of the act that put the library.
        const auto first = new_code(workshop);
        REQUIRE(add_coil(workshop, first).has_value());
        REQUIRE(undo(workshop).has_value());
        const auto second = new_code(workshop);
        CHECK(is_given_code(first));
        CHECK(is_given_code(second));
        CHECK(first != second);
    }

    TEST_CASE("a sheet of codes holds no code twice") {
        auto workshop = Workshop::in_memory(real_surroundings("test"));
        const auto codes = new_codes(workshop, 300);
        CHECK(std::set<std::string>(codes.begin(), codes.end()).size() == 300);
        CHECK(new_codes(workshop, 0).empty());
    }

    TEST_CASE("a coil is found by its given code as people write it") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "K7M3XM").value();
        CHECK(coil_by_code(workshop, "k7m 3xm") == coil);
        CHECK(coil_by_code(workshop, " K7M-3XM ") == coil);
    }

    TEST_CASE("a mistyped code is told with the nearest codes of the catalogue") {
        auto workshop = workshop_in_memory();
        REQUIRE(add_coil(workshop, "K7M3XM").has_value());
        REQUIRE(add_coil(workshop, "A7").has_value());
        const auto slip = coil_by_code(workshop, "K7M3WM");
        REQUIRE_FALSE(slip.has_value());
        CHECK(slip.error().sentence == "there is no coil 'K7M3WM'");
        CHECK(slip.error().suggestion ==
              "perhaps 'K7M3XM': its check character says that it was mistyped");
        CHECK(coil_by_code(workshop, "A9").error().suggestion == "perhaps 'A7'");
        says(coil_by_code(workshop, "Q").error().suggestion, "coils list");
    }

    TEST_CASE("of a retired coil or rig it is said that it was retired, and when") {
        auto workshop = workshop_in_memory();
        for (const auto* code : {"A1", "A3", "K7M3XM"}) {
            REQUIRE(add_coil(workshop, code).has_value());
        }
        RigWords words;
        words.code = "R1";
        REQUIRE(add_rig(workshop, words).has_value());
        const auto when = minute_of(workshop.surroundings().now()).substr(0, 10);
        REQUIRE(hand_over(workshop, {Whereabouts::retired, {}, {}, {}, {"A3", "K7M3XM", "R1"}})
                    .has_value());
        const auto coil = coil_by_code(workshop, "A3");
        REQUIRE_FALSE(coil.has_value());
        says(coil.error().sentence, "coil 'A3' was retired on " + when);
        says(coil.error().suggestion, "'coilbook history --coil A3' shows what was done");
        says(coil_by_code(workshop, "k7m 3xm").error().sentence, "coil 'K7M3XM' was retired on ");
        const auto rig = rig_called(workshop, "R1");
        REQUIRE_FALSE(rig.has_value());
        says(rig.error().sentence, "rig 'R1' was retired on " + when);
        says(where_is(workshop, "A3").error().sentence, "coil 'A3' was retired on ");
        says(where_is(workshop, "R1").error().sentence, "rig 'R1' was retired on ");
        // What is of the other sort, or never was, is simply not there.
        CHECK(coil_by_code(workshop, "R1").error().sentence == "there is no coil 'R1'");
        CHECK(rig_called(workshop, "A3").error().sentence == "there is no rig 'A3'");
        CHECK(coil_by_code(workshop, "A4").error().sentence == "there is no coil 'A4'");
        // Who has the code now is meant; and what is taken back is there.
        const auto heir = add_coil(workshop, "A3").value();
        CHECK(coil_by_code(workshop, "A3") == heir);
        REQUIRE(undo(workshop).has_value());
        REQUIRE(undo(workshop).has_value());
        CHECK(coil_by_code(workshop, "A3").has_value());
        CHECK(rig_called(workshop, "R1").has_value());
    }

    TEST_CASE("a mistyped rig is told with the nearest rigs") {
        auto workshop = workshop_in_memory();
        RigWords words;
        words.code = "blue-8";
        REQUIRE(add_rig(workshop, words).has_value());
        CHECK(rig_called(workshop, "bleu-8").error().suggestion == "perhaps 'blue-8'");
        CHECK(where_is(workshop, "bleu-8").error().suggestion == "perhaps 'blue-8'");
        says(rig_called(workshop, "Q").error().suggestion, "rig list");
    }

    TEST_CASE("a new coil does not get another one's code by a slip") {
        auto workshop = workshop_in_memory();
        REQUIRE(add_coil(workshop, "K7M3XM").has_value());
        says(add_coil(workshop, "k7m3xm").error().sentence, "how one reads K7M3XM");
        says(add_coil(workshop, "K7M3WM").error().sentence, "wrong check character");
        says(add_coil(workshop, "7KM3XM").error().suggestion, "perhaps 'K7M3XM'");
        // One's own codes of that look are nobody's slip, nor are other given ones.
        CHECK(add_coil(workshop, "TTTT33").has_value());
        CHECK(add_coil(workshop, given_code(1234)).has_value());
        CHECK(add_coil(workshop, "A7").has_value());
    }
}
