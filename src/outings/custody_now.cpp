#include "outings/custody_now.h"

#include <algorithm>

namespace coilbook {

Refusal refusal_of(const Place& now, const Place& wanted) {
    switch (wanted.where) {
        case Whereabouts::boat:
            if (now.where == Whereabouts::boat && now.boat == wanted.boat) {
                return Refusal::already_there;
            }
            return is_at_hand(now.where) ? Refusal::none : Refusal::not_at_hand;
        case Whereabouts::lent:
            return is_at_hand(now.where) ? Refusal::none : Refusal::not_at_hand;
        case Whereabouts::bin:
        case Whereabouts::lost:
        case Whereabouts::damaged:
        case Whereabouts::retired:
            return now.where == wanted.where ? Refusal::already_there : Refusal::none;
        case Whereabouts::rig:
            return Refusal::none;  // what can be strung is another matter
    }
    return Refusal::none;
}

CustodyNow::CustodyNow(std::span<const Handover> record) {
    std::map<Thing, std::size_t> order;  // where in the record the last one stands
    for (std::size_t at = 0; at < record.size(); ++at) {
        const auto& handover = record[at];
        const auto [found, is_new] = standings_.try_emplace(handover.thing, Standing{handover, 1});
        if (!is_new) {
            found->second.last = handover;
            ++found->second.handovers;
        }
        order[handover.thing] = at;
    }
    std::vector<const Standing*> in_order;
    for (const auto& [thing, standing] : standings_) in_order.push_back(&standing);
    std::ranges::sort(in_order, {}, [&](const Standing* each) { return order[each->last.thing]; });
    string_rigs(in_order);
}

CustodyNow::CustodyNow(const std::vector<Standing>& standings) {
    std::vector<const Standing*> in_order;
    for (const auto& standing : standings) {
        standings_.emplace(standing.last.thing, standing);
        in_order.push_back(&standing);
    }
    string_rigs(in_order);
}

void CustodyNow::string_rigs(const std::vector<const Standing*>& in_order) {
    for (const auto* standing : in_order) {
        if (standing->last.to.rig) into_rig_[*standing->last.to.rig].push_back(standing->last);
    }
}

Place CustodyNow::place_of(const Thing& thing) const {
    const auto found = standings_.find(thing);
    return found == standings_.end() ? Place{} : found->second.last.to;
}

Place CustodyNow::place_in_the_end(const Thing& thing) const {
    const auto place = place_of(thing);
    if (!place.rig) return place;
    const auto of_rig = place_of(*place.rig);  // a rig is in no rig
    return of_rig.where == Whereabouts::bin ? place : of_rig;
}

int CustodyNow::turns_of(const Thing& thing) const {
    const auto found = standings_.find(thing);
    return found == standings_.end() ? 0 : found->second.handovers;
}

std::vector<InRig> CustodyNow::in_rig(const Id<Rig>& rig) const {
    std::vector<InRig> parts;
    const auto found = into_rig_.find(rig);
    if (found == into_rig_.end()) return parts;
    for (const auto& handover : found->second) {
        const auto* coil = std::get_if<Id<Coil>>(&handover.thing);
        if (coil == nullptr || !handover.to.role) continue;
        if (*handover.to.role == RigRole::tip) {
            for (auto& part : parts) {
                if (part.role == RigRole::tip) part.role = RigRole::wallet;
            }
        }
        parts.push_back({*coil, *handover.to.role});
    }
    return parts;
}

std::vector<Thing> CustodyNow::on_boat(const Id<Boat>& boat) const {
    std::vector<Thing> things;
    for (const auto& thing : out()) {
        if (place_in_the_end(thing).boat == boat) things.push_back(thing);
    }
    return things;
}

std::vector<Thing> CustodyNow::out() const {
    std::vector<Thing> things;
    for (const auto& [thing, standing] : standings_) {
        if (place_in_the_end(thing).where == Whereabouts::boat) things.push_back(thing);
    }
    return things;
}

std::vector<Thing> CustodyNow::disputed() const {
    std::vector<Thing> things;
    for (const auto& [thing, standing] : standings_) {
        if (standing.is_disputed()) things.push_back(thing);
    }
    return things;
}

}  // namespace coilbook
