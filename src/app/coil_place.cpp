#include "app/coil_place.h"

#include <algorithm>

#include "app/place_words.h"
#include "rigging/tip_fit.h"
#include "store/client_repository.h"
#include "store/custody_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {
namespace {

PlaceNames names_in(Workshop& workshop) {
    auto& catalogue = workshop.catalogue();
    return {[&catalogue](const Id<Boat>& id) {
                const auto boats = catalogue.outings().boats(true);
                const auto found = std::ranges::find(boats, id, &Boat::id);
                return found == boats.end() ? id.text() : found->name;
            },
            [&catalogue](const Id<Rig>& id) {
                const auto rig = catalogue.rigs().by_id(id);
                return rig ? rig->code : id.text();
            },
            [&catalogue](const Id<Client>& id) {
                const auto client = catalogue.clients().by_id(id);
                return client ? client->code : id.text();
            }};
}

}  // namespace

CoilPlace place_of(Workshop& workshop, const Coil& coil) {
    auto& custody = workshop.catalogue().custody();
    const auto names = names_in(workshop);
    CoilPlace found{"in the bin", {}, false};
    auto record = custody.all_of(Thing(coil.id));
    if (record.empty()) return found;
    const auto& last = record.back();
    found.now = words_for(last.to, names);
    if (last.to.rig) {
        const auto of_rig = custody.all_of(Thing(*last.to.rig));
        found.now +=
            ", the rig " + (of_rig.empty() ? "in the bin" : words_for(of_rig.back().to, names));
    }
    found.is_disputed = Standing{last, static_cast<int>(record.size())}.is_disputed();
    std::ranges::reverse(record);
    for (const auto& step : record) {
        found.steps.push_back({step.at, words_for(step.to, names), step.by, step.note});
    }
    return found;
}

CoilBalance balance_of(Workshop& workshop, const std::string& class_name,
                       const std::optional<LinearDensity>& weight) {
    const auto& library = workshop.library();
    const auto known = std::ranges::find(library, class_name, &ReferenceClass::name);
    if (class_name.empty() || known == library.end()) {
        return {{}, {}, "not known before it is clear what it is"};
    }
    CoilBalance balance{sizes_that_fit(*known, weight, library), {}, {}};
    if (balance.sizes.empty()) {
        balance.unknown =
            known->family == Family::level_line || known->family == Family::matched_tip
                ? "no matched tip of the library weighs as much a foot"
                : "not a tip that is cast by a line's size";
        return balance;
    }
    for (const auto& rig : workshop.catalogue().rigs().list()) {
        if (!rig.line_size) continue;
        if (std::ranges::find(balance.sizes, *rig.line_size) != balance.sizes.end()) {
            balance.rigs.push_back(rig.code);
        }
    }
    return balance;
}

}  // namespace coilbook::app
