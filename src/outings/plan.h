// The plan of a day against what there is: the same thing promised twice, classes of which there
// are not enough, and boats without a fast-sinking tip for their rods.
//
// All from values: which coil fits which rod, and what counts as fast, is told (rigging/tip_fit.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/outing.h"
#include "outings/custody_now.h"

namespace coilbook {

struct DayPlan {
    std::vector<Outing> outings;    // of one day, cancelled ones left out
    std::vector<Promise> promises;  // of these, withdrawn ones left out
};

// Everything that the plan names as a thing, with a rig what is in it, each once, by id.
[[nodiscard]] std::vector<Thing> promised_things(const DayPlan& plan, const CustodyNow& custody);

// A thing that two outings are to carry, by itself or in a rig's wallet.
struct PromisedTwice {
    Thing thing;
    std::vector<Id<Outing>> outings;  // in the order of the promises; one twice if it is so

    bool operator==(const PromisedTwice&) const = default;
};
// By the order in which the plan first names them. What is in a rig is promised with the rig.
[[nodiscard]] std::vector<PromisedTwice> promised_twice(const DayPlan& plan,
                                                        const CustodyNow& custody);

// A coil with what it is held to be.
struct KnownCoil {
    Id<Coil> coil;
    std::string class_name;      // empty: not known
    std::vector<LineSize> fits;  // rods that it can be cast with, as a tip
    bool sinks_fast = false;

    bool operator==(const KnownCoil&) const = default;
};

// What the plan needs of a class, and what of it is at hand and not promised as a thing.
struct ClassStock {
    std::string class_name;
    int needed = 0;
    int at_hand = 0;  // or aboard one of the plan's boats already

    [[nodiscard]] int missing() const { return needed > at_hand ? needed - at_hand : 0; }
    bool operator==(const ClassStock&) const = default;
};
// A row for each class that the plan needs by count, in the order in which it names them. Coils in
// rigs are not free. REQUIRES: `coils` has every coil that is in the bin or out.
[[nodiscard]] std::vector<ClassStock> needs_against_stock(const DayPlan& plan,
                                                          const CustodyNow& custody,
                                                          const std::vector<KnownCoil>& coils);

// A boat that carries a rod but no fast-sinking tip that can be cast with it.
struct NoFastTip {
    Id<Boat> boat;
    LineSize size;
    std::vector<Id<Coil>> would_fill;  // free coils in the bin that fit and sink fast

    bool operator==(const NoFastTip&) const = default;
};
// By boat as the plan first names it, then by size. Counted is what the plan promises: rigs with
// what is in them, spare coils, and classes of which some coil fits and is fast; and what is aboard
// already.
[[nodiscard]] std::vector<NoFastTip> boats_without_fast_tip(const DayPlan& plan,
                                                            const CustodyNow& custody,
                                                            const std::vector<Rig>& rigs,
                                                            const std::vector<KnownCoil>& coils);

}  // namespace coilbook
