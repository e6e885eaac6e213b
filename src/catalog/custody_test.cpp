#include "catalog/custody.h"

#include <doctest/doctest.h>

using namespace coilbook;

TEST_SUITE("Places of things") {
    TEST_CASE("places and roles are read by their names") {
        CHECK(whereabouts_from("Boat") == Whereabouts::boat);
        CHECK(name_of(Whereabouts::damaged) == "damaged");
        CHECK(rig_role_from("wallet") == RigRole::wallet);
        CHECK(name_of(RigRole::leader) == "leader");
        CHECK(whereabouts_from("pocket").error().suggestion ==
              "bin, boat, rig, lent, lost, damaged and retired");
    }

    TEST_CASE("only what is here and whole can be handed out") {
        CHECK(is_at_hand(Whereabouts::bin));
        CHECK(is_at_hand(Whereabouts::rig));
        for (const auto where : {Whereabouts::boat, Whereabouts::lent, Whereabouts::lost,
                                 Whereabouts::damaged, Whereabouts::retired}) {
            CHECK_FALSE(is_at_hand(where));
        }
    }
}
