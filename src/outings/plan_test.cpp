#include "outings/plan.h"

#include <doctest/doctest.h>

#include "support/an_outfit.h"

using namespace coilbook;

namespace {

// Two boats go out; promises are added one by one.
struct PlanBuilder {
    DayPlan plan{{{id_of<Outing>(1), Day{}, id_of<Boat>(1), std::nullopt},
                  {id_of<Outing>(2), Day{}, id_of<Boat>(2), std::nullopt}},
                 {}};

    template <class What>
    PlanBuilder& promise(int outing, const What& what) {
        const auto number = static_cast<int>(plan.promises.size()) + 1;
        plan.promises.push_back({id_of<Promise>(number), id_of<Outing>(outing), what});
        return *this;
    }
};

KnownCoil a_tip(int number, const std::string& name, int size, bool fast) {
    return {id_of<Coil>(number), name, {LineSize{size}}, fast};
}

Rig a_rig(int number, int size) {
    return {.id = id_of<Rig>(number),
            .code = "R" + std::to_string(number),
            .name = "",
            .line_size = LineSize{size},
            .rod = "",
            .reel = "",
            .backing = "",
            .running_line = "",
            .notes = "",
            .made_at = {}};
}

}  // namespace

TEST_SUITE("The plan of a day") {
    TEST_CASE("a coil that two boats are promised is told") {
        const auto plan = PlanBuilder()
                              .promise(1, id_of<Coil>(5))
                              .promise(1, id_of<Coil>(6))
                              .promise(2, id_of<Coil>(5))
                              .plan;
        const auto twice = promised_twice(plan, CustodyNow());
        REQUIRE(twice.size() == 1);
        CHECK(twice[0].thing == coil_thing(5));
        CHECK(twice[0].outings == std::vector{id_of<Outing>(1), id_of<Outing>(2)});
    }

    TEST_CASE("a tip in the wallet of a rig is promised with the rig") {
        const CustodyNow custody(
            RecordBuilder().hand(coil_thing(5), in_rig(7, RigRole::wallet)).record());
        const auto plan = PlanBuilder().promise(1, id_of<Rig>(7)).promise(2, id_of<Coil>(5)).plan;
        const auto twice = promised_twice(plan, custody);
        REQUIRE(twice.size() == 1);
        CHECK(twice[0].thing == coil_thing(5));
        CHECK(promised_twice(plan, CustodyNow()).empty());  // while it is in no rig
    }

    // Four coils of a class: one is out, one is promised by itself, so two are left for three
    // needed.
    TEST_CASE("what is needed of a class is held against what is free") {
        const CustodyNow custody(RecordBuilder().hand(coil_thing(1), on_boat(9)).record());
        std::vector<KnownCoil> coils;
        for (int number = 1; number <= 4; ++number) coils.push_back(a_tip(number, "T-11", 8, true));
        const auto plan = PlanBuilder()
                              .promise(1, id_of<Coil>(2))
                              .promise(1, ClassNeed{"T-11", 1})
                              .promise(2, ClassNeed{"T-8", 1})
                              .promise(2, ClassNeed{"T-11", 2})
                              .plan;
        const auto stock = needs_against_stock(plan, custody, coils);
        REQUIRE(stock.size() == 2);
        CHECK(stock[0] == ClassStock{"T-11", 3, 2});
        CHECK(stock[0].missing() == 1);
        CHECK(stock[1] == ClassStock{"T-8", 1, 0});
    }

    TEST_CASE("what is aboard already is not missing, nor is a fast tip that is aboard") {
        const CustodyNow custody(RecordBuilder()
                                     .hand(coil_thing(1), on_boat(1))
                                     .hand(coil_thing(2), on_boat(9))
                                     .record());
        const std::vector<KnownCoil> coils{a_tip(1, "T-11", 8, true), a_tip(2, "T-11", 8, true)};
        const auto plan =
            PlanBuilder().promise(1, id_of<Rig>(7)).promise(1, ClassNeed{"T-11", 2}).plan;
        CHECK(needs_against_stock(plan, custody, coils) ==
              std::vector{ClassStock{"T-11", 2, 1}});  // the other one is with a third boat
        const auto rig_alone = PlanBuilder().promise(1, id_of<Rig>(7)).plan;
        CHECK(boats_without_fast_tip(rig_alone, custody, {a_rig(7, 8)}, coils).empty());
        CHECK(boats_without_fast_tip(rig_alone, CustodyNow(), {a_rig(7, 8)}, coils).size() == 1);
    }

    TEST_CASE("a boat without a fast tip for its rod is told, with what would fill the gap") {
        const std::vector<KnownCoil> coils{
            a_tip(1, "size 8 type 3 tip", 8, false), a_tip(2, "size 8 type 6 tip", 8, true),
            a_tip(3, "size 7 type 6 tip", 7, true), a_tip(4, "size 8 type 8 tip", 8, true)};
        const std::vector<Rig> rigs{a_rig(7, 8), a_rig(8, 7)};
        const CustodyNow custody(RecordBuilder()
                                     .hand(coil_thing(1), in_rig(7, RigRole::tip))
                                     .hand(coil_thing(3), in_rig(8, RigRole::tip))
                                     .hand(coil_thing(4), lost_from(1))
                                     .record());
        auto builder = PlanBuilder().promise(1, id_of<Rig>(7)).promise(2, id_of<Rig>(8));
        const auto gaps = boats_without_fast_tip(builder.plan, custody, rigs, coils);
        REQUIRE(gaps.size() == 1);
        CHECK(gaps[0].boat == id_of<Boat>(1));
        CHECK(gaps[0].size == LineSize{8});
        CHECK(gaps[0].would_fill == std::vector{id_of<Coil>(2)});
        // A spare tip, or one of the class, fills it.
        auto with_spare = builder;
        CHECK(
            boats_without_fast_tip(with_spare.promise(1, id_of<Coil>(2)).plan, custody, rigs, coils)
                .empty());
        CHECK(boats_without_fast_tip(builder.promise(1, ClassNeed{"size 8 type 6 tip", 1}).plan,
                                     custody, rigs, coils)
                  .empty());
    }

    TEST_CASE("an empty plan asks for nothing") {
        CHECK(promised_twice({}, CustodyNow()).empty());
        CHECK(needs_against_stock({}, CustodyNow(), {}).empty());
        CHECK(boats_without_fast_tip({}, CustodyNow(), {}, {}).empty());
    }
}
