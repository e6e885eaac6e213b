// Where everything is now, from the record of handovers.
//
// The record is taken in its order, which is the same in every copy of the catalogue; the last
// handover of a thing counts. Where two copies handed the same thing over without knowing of each
// other, the thing still has one place, and it is disputed until somebody says anew where it is.
#pragma once

#include <map>
#include <span>
#include <vector>

#include "catalog/custody.h"

namespace coilbook {

// Whether a thing that is at `now`, in the end, can be handed to `wanted`.
enum class Refusal {
    none,
    already_there,  // with that boat, in the bin, lost … already
    not_at_hand,    // to be handed out or lent, but it is out, lent, lost, damaged or retired
};
[[nodiscard]] Refusal refusal_of(const Place& now, const Place& wanted);

struct InRig {
    Id<Coil> coil;
    RigRole role;

    bool operator==(const InRig&) const = default;
};

class CustodyNow {
  public:
    CustodyNow() = default;  // nothing was ever handed over
    // `record` in its order, the oldest first.
    explicit CustodyNow(std::span<const Handover> record);
    // From the standings of all things that were ever handed over, in the order of the record.
    explicit CustodyNow(const std::vector<Standing>& standings);

    // What its last handover says; in the bin where there is none.
    [[nodiscard]] Place place_of(const Thing& thing) const;
    // The same, but what is in a rig is where the rig is.
    [[nodiscard]] Place place_in_the_end(const Thing& thing) const;
    // How many handovers of the thing there were.
    [[nodiscard]] int turns_of(const Thing& thing) const;
    [[nodiscard]] const std::map<Thing, Standing>& standings() const { return standings_; }

    // What is strung on the rig and in its wallet, in the order in which it was handed in. One tip
    // is on at most: where two copies changed it apart, the one handed in last; others lie in the
    // wallet.
    [[nodiscard]] std::vector<InRig> in_rig(const Id<Rig>& rig) const;
    // What is out with the boat, rigs and what is in them included, by id.
    [[nodiscard]] std::vector<Thing> on_boat(const Id<Boat>& boat) const;
    // What is out with any boat, by id: at the end of the day, what did not come back.
    [[nodiscard]] std::vector<Thing> out() const;
    // Things whose place is disputed, by id.
    [[nodiscard]] std::vector<Thing> disputed() const;

  private:
    void string_rigs(const std::vector<const Standing*>& in_order);

    std::map<Thing, Standing> standings_;
    std::map<Id<Rig>, std::vector<Handover>> into_rig_;  // the last handovers that are into it
};

}  // namespace coilbook
