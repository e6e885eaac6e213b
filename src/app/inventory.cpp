#include "app/inventory.h"

#include <algorithm>

#include "app/codes.h"
#include "app/place_words.h"
#include "base/text.h"
#include "catalog/given_code.h"
#include "rigging/tip_fit.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/custody_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {

Inventory::Inventory(Workshop& workshop) : workshop_(workshop) {
    refresh();
}

void Inventory::refresh() {
    auto& catalogue = workshop_.catalogue();
    rigs_ = catalogue.rigs().list();
    boats_ = catalogue.outings().boats(true);
    custody_ = CustodyNow(catalogue.custody().standings());
    bin_.refresh(workshop_);
    coils_.clear();
    classes_.clear();
    for (std::size_t at = 0; at < bin_.size(); ++at) coils_.emplace(bin_.entry(at).coil.id, at);
    for (const auto& each : bin_.library()) classes_.emplace(each.name, &each);
}

Result<Thing> Inventory::thing_called(std::string_view code) {
    const auto wanted = trimmed(code);
    const auto find = [&](std::string_view exact) -> std::optional<Thing> {
        if (const auto at = bin_.find_code(exact)) return Thing(bin_.entry(*at).coil.id);
        const auto found = std::ranges::find(rigs_, exact, &Rig::code);
        if (found != rigs_.end()) return Thing(found->id);
        return std::nullopt;
    };
    const auto meant = read_given_code(wanted);
    for (const auto& each : {std::string(wanted), meant.value_or("")}) {
        if (const auto one = check_only_one_has(workshop_, each); !one) {
            return tl::unexpected(one.error());
        }
        if (const auto thing = find(each)) return *thing;
    }
    return tl::unexpected(unknown_code(workshop_, CodeOf::coil_or_rig, code));
}

std::string Inventory::code_of(const Thing& thing) {
    if (const auto* coil = std::get_if<Id<Coil>>(&thing)) {
        if (const auto at = coils_.find(*coil); at != coils_.end()) {
            return bin_.entry(at->second).coil.code;
        }
        const auto retired = workshop_.catalogue().coils().by_id(*coil);
        return retired ? retired->code : coil->text();
    }
    const auto& id = std::get<Id<Rig>>(thing);
    if (const auto* known = rig(id)) return known->code;
    const auto retired = workshop_.catalogue().rigs().by_id(id);
    return retired ? retired->code : id.text();
}

const ReferenceClass* Inventory::sure_class_of(std::size_t at) {
    const auto state = bin_.state(at);
    if (state != CoilState::confirmed && state != CoilState::ready) return nullptr;
    const auto name = bin_.label(at).name;
    const auto found = classes_.find(name);
    return found == classes_.end() ? nullptr : found->second;
}

std::string Inventory::class_of(const Thing& thing) {
    const auto* coil = std::get_if<Id<Coil>>(&thing);
    if (coil == nullptr) return "rig";
    const auto at = coils_.find(*coil);
    if (at == coils_.end()) {  // retired
        const auto word = workshop_.catalogue().confirmations().current_of(*coil);
        return word ? *word->class_name : "not sure";
    }
    if (const auto& confirmed = bin_.entry(at->second).confirmed_class) return *confirmed;
    if (const auto* known = sure_class_of(at->second)) return known->name;
    return bin_.state(at->second) == CoilState::unmeasured ? "unmeasured" : "not sure";
}

std::string Inventory::words_for(const Thing& thing) {
    if (std::holds_alternative<Id<Coil>>(thing)) return class_of(thing);
    const auto* known = rig(std::get<Id<Rig>>(thing));
    if (known == nullptr) return "rig";
    std::string words = "rig";
    if (known->line_size) words += ", size " + name_of(*known->line_size);
    if (!known->name.empty()) words += ": " + known->name;
    return words;
}

std::string Inventory::words_for(const Place& place) {
    return app::words_for(place,
                          {[this](const Id<Boat>& boat) { return boat_name(boat); },
                           [this](const Id<Rig>& rig_id) { return code_of(Thing(rig_id)); },
                           [this](const Id<Client>& client) { return client_code(client); }});
}

std::string Inventory::boat_name(const Id<Boat>& boat) const {
    const auto found = std::ranges::find(boats_, boat, &Boat::id);
    return found == boats_.end() ? boat.text() : found->name;
}

std::string Inventory::client_code(const Id<Client>& client) {
    const auto found = workshop_.catalogue().clients().by_id(client);
    return found ? found->code : client.text();
}

const Rig* Inventory::rig(const Id<Rig>& id) const {
    const auto found = std::ranges::find(rigs_, id, &Rig::id);
    return found == rigs_.end() ? nullptr : &*found;
}

std::optional<DensityGrade> Inventory::grade_of(const Id<Coil>& coil) {
    const auto at = coils_.find(coil);
    if (at == coils_.end()) return std::nullopt;
    const auto* known = sure_class_of(at->second);
    return known == nullptr ? std::nullopt : known->density_grade;
}

std::vector<KnownCoil> Inventory::known_coils() {
    std::vector<KnownCoil> coils;
    for (std::size_t at = 0; at < bin_.size(); ++at) {
        KnownCoil coil{bin_.entry(at).coil.id, {}, {}, false};
        if (const auto* known = sure_class_of(at)) {
            coil.class_name = known->name;
            std::optional<LinearDensity> weight;
            if (const auto& measured = bin_.summary(at).facts.linear_density) {
                weight = measured->value;
            }
            coil.fits = sizes_that_fit(*known, weight, bin_.library());
            coil.sinks_fast = sinks_fast(known->density_grade);
        }
        coils.push_back(std::move(coil));
    }
    return coils;
}

}  // namespace coilbook::app
