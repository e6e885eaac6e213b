#include "outings/custody_now.h"

#include <doctest/doctest.h>

#include "support/an_outfit.h"

using namespace coilbook;

TEST_SUITE("Where things are") {
    TEST_CASE("what was never handed anywhere is in the bin") {
        const CustodyNow custody(std::vector<Handover>{});
        CHECK(custody.place_of(coil_thing(1)).where == Whereabouts::bin);
        CHECK(custody.turns_of(coil_thing(1)) == 0);
        CHECK(custody.out().empty());
    }

    TEST_CASE("the last handover counts") {
        const CustodyNow custody(RecordBuilder()
                                     .hand(coil_thing(1), on_boat(1))
                                     .hand(coil_thing(2), on_boat(2))
                                     .hand(coil_thing(1), in_bin())
                                     .hand(coil_thing(1), on_boat(2))
                                     .record());
        CHECK(custody.place_of(coil_thing(1)) == on_boat(2));
        CHECK(custody.on_boat(id_of<Boat>(1)).empty());
        CHECK(custody.on_boat(id_of<Boat>(2)) == std::vector{coil_thing(1), coil_thing(2)});
        CHECK(custody.turns_of(coil_thing(1)) == 3);
        CHECK(custody.disputed().empty());
    }

    TEST_CASE("what is in a rig goes where the rig goes, and is lost with it") {
        RecordBuilder record;
        record.hand(coil_thing(1), in_rig(7, RigRole::tip))
            .hand(coil_thing(2), in_rig(7, RigRole::wallet))
            .hand(rig_thing(7), on_boat(1));
        const CustodyNow out(record.record());
        CHECK(out.place_of(coil_thing(2)) == in_rig(7, RigRole::wallet));
        CHECK(out.place_in_the_end(coil_thing(2)) == on_boat(1));
        CHECK(out.on_boat(id_of<Boat>(1)).size() == 3);
        record.hand(rig_thing(7), lost_from(1));
        const CustodyNow lost(record.record());
        CHECK(lost.place_in_the_end(coil_thing(1)).where == Whereabouts::lost);
        CHECK(lost.out().empty());
        record.hand(rig_thing(7), in_bin());
        CHECK(CustodyNow(record.record()).place_in_the_end(coil_thing(1)).where ==
              Whereabouts::rig);
    }

    TEST_CASE("one tip is on: the one put on last; the others lie in the wallet") {
        const CustodyNow custody(RecordBuilder()
                                     .hand(coil_thing(1), in_rig(7, RigRole::tip))
                                     .hand(coil_thing(2), in_rig(7, RigRole::head))
                                     .hand(coil_thing(3), in_rig(7, RigRole::tip))
                                     .record());
        CHECK(custody.in_rig(id_of<Rig>(7)) == std::vector<InRig>{{id_of<Coil>(1), RigRole::wallet},
                                                                  {id_of<Coil>(2), RigRole::head},
                                                                  {id_of<Coil>(3), RigRole::tip}});
        CHECK(custody.in_rig(id_of<Rig>(8)).empty());
    }

    // Two laptops handed coil 1 out while they were apart: each knew of one handover only.
    TEST_CASE("a double hand-out leaves one place, disputed until somebody says where it is") {
        RecordBuilder record;
        record.hand(coil_thing(1), in_bin(), 0)
            .hand(coil_thing(1), on_boat(1), 1)
            .hand(coil_thing(1), on_boat(2), 1);
        const CustodyNow merged(record.record());
        CHECK(merged.place_of(coil_thing(1)) == on_boat(2));
        CHECK(merged.on_boat(id_of<Boat>(1)).empty());
        CHECK(merged.disputed() == std::vector{coil_thing(1)});
        // What the second laptop went on to write, still apart, settles nothing.
        record.hand(coil_thing(1), in_bin(), 2);
        CHECK(CustodyNow(record.record()).disputed().size() == 1);
        record.hand(coil_thing(1), in_bin(), 4);
        CHECK(CustodyNow(record.record()).disputed().empty());
    }
}
