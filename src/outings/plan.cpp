#include "outings/plan.h"

#include <algorithm>
#include <map>
#include <set>

namespace coilbook {
namespace {

// What a promise carries: the thing itself, and with a rig what is in it.
std::vector<Thing> things_of(const Promise& promise, const CustodyNow& custody) {
    std::vector<Thing> things;
    if (const auto* coil = std::get_if<Id<Coil>>(&promise.what)) things.emplace_back(*coil);
    if (const auto* rig = std::get_if<Id<Rig>>(&promise.what)) {
        things.emplace_back(*rig);
        for (const auto& part : custody.in_rig(*rig)) things.emplace_back(part.coil);
    }
    return things;
}

std::set<Thing> all_promised(const DayPlan& plan, const CustodyNow& custody) {
    std::set<Thing> promised;
    for (const auto& promise : plan.promises) {
        for (const auto& thing : things_of(promise, custody)) promised.insert(thing);
    }
    return promised;
}

const Outing* outing_of(const DayPlan& plan, const Id<Outing>& id) {
    const auto found = std::ranges::find(plan.outings, id, &Outing::id);
    return found == plan.outings.end() ? nullptr : &*found;
}

bool fits(const KnownCoil& coil, LineSize size) {
    return coil.sinks_fast && std::ranges::find(coil.fits, size) != coil.fits.end();
}

// In the bin, in no rig, and promised to nobody.
bool is_free(const KnownCoil& coil, const CustodyNow& custody, const std::set<Thing>& promised) {
    const Thing thing{coil.coil};
    return custody.place_of(thing).where == Whereabouts::bin && !promised.contains(thing);
}

// Aboard one of the plan's boats, in no rig, and promised by no code.
bool is_aboard(const KnownCoil& coil, const DayPlan& plan, const CustodyNow& custody,
               const std::set<Thing>& promised) {
    const Thing thing{coil.coil};
    const auto place = custody.place_of(thing);
    return place.where == Whereabouts::boat && !promised.contains(thing) &&
           std::ranges::find(plan.outings, *place.boat, &Outing::boat) != plan.outings.end();
}

// What one boat is to carry on the day.
struct Load {
    std::set<LineSize> rods;
    std::set<Thing> things;
    std::set<std::string> classes;
};

}  // namespace

std::vector<Thing> promised_things(const DayPlan& plan, const CustodyNow& custody) {
    const auto promised = all_promised(plan, custody);
    return {promised.begin(), promised.end()};
}

std::vector<PromisedTwice> promised_twice(const DayPlan& plan, const CustodyNow& custody) {
    std::vector<Thing> order;
    std::map<Thing, std::vector<Id<Outing>>> outings;
    for (const auto& promise : plan.promises) {
        for (const auto& thing : things_of(promise, custody)) {
            auto& of_thing = outings[thing];
            if (of_thing.empty()) order.push_back(thing);
            of_thing.push_back(promise.outing);
        }
    }
    std::vector<PromisedTwice> twice;
    for (const auto& thing : order) {
        if (outings[thing].size() > 1) twice.push_back({thing, outings[thing]});
    }
    return twice;
}

std::vector<ClassStock> needs_against_stock(const DayPlan& plan, const CustodyNow& custody,
                                            const std::vector<KnownCoil>& coils) {
    const auto promised = all_promised(plan, custody);
    std::vector<ClassStock> stock;
    for (const auto& promise : plan.promises) {
        const auto* need = std::get_if<ClassNeed>(&promise.what);
        if (need == nullptr) continue;
        auto row = std::ranges::find(stock, need->class_name, &ClassStock::class_name);
        if (row == stock.end()) {
            const auto at_hand = std::ranges::count_if(coils, [&](const KnownCoil& coil) {
                return coil.class_name == need->class_name &&
                       (is_free(coil, custody, promised) ||
                        is_aboard(coil, plan, custody, promised));
            });
            stock.push_back({need->class_name, 0, static_cast<int>(at_hand)});
            row = stock.end() - 1;
        }
        row->needed += need->count;
    }
    return stock;
}

std::vector<NoFastTip> boats_without_fast_tip(const DayPlan& plan, const CustodyNow& custody,
                                              const std::vector<Rig>& rigs,
                                              const std::vector<KnownCoil>& coils) {
    std::vector<Id<Boat>> order;
    std::map<Id<Boat>, Load> loads;
    for (const auto& promise : plan.promises) {
        const auto* outing = outing_of(plan, promise.outing);
        if (outing == nullptr) continue;
        if (!loads.contains(outing->boat)) {
            order.push_back(outing->boat);
            for (const auto& thing : custody.on_boat(outing->boat)) {
                loads[outing->boat].things.insert(thing);
            }
        }
        auto& load = loads[outing->boat];
        for (const auto& thing : things_of(promise, custody)) load.things.insert(thing);
        if (const auto* need = std::get_if<ClassNeed>(&promise.what)) {
            load.classes.insert(need->class_name);
        }
        if (const auto* id = std::get_if<Id<Rig>>(&promise.what)) {
            const auto rig = std::ranges::find(rigs, *id, &Rig::id);
            if (rig != rigs.end() && rig->line_size) load.rods.insert(*rig->line_size);
        }
    }
    const auto promised = all_promised(plan, custody);
    std::vector<NoFastTip> found;
    for (const auto& boat : order) {
        const auto& load = loads[boat];
        for (const auto size : load.rods) {
            const bool has_one = std::ranges::any_of(coils, [&](const KnownCoil& coil) {
                return fits(coil, size) && (load.things.contains(Thing{coil.coil}) ||
                                            load.classes.contains(coil.class_name));
            });
            if (has_one) continue;
            NoFastTip gap{boat, size, {}};
            for (const auto& coil : coils) {
                if (fits(coil, size) && is_free(coil, custody, promised)) {
                    gap.would_fill.push_back(coil.coil);
                }
            }
            found.push_back(std::move(gap));
        }
    }
    return found;
}

}  // namespace coilbook
