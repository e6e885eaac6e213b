#include "app/codes.h"

#include <doctest/doctest.h>

#include <set>

#include "app/coil_changes.h"
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
