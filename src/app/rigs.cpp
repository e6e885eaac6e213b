#include "app/rigs.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

#include "app/codes.h"
#include "base/text.h"
#include "catalog/given_code.h"
#include "rigging/tip_fit.h"
#include "store/custody_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {
namespace {

Handover into_rig(Workshop& workshop, const Id<Coil>& coil, const Rig& rig, RigRole role) {
    return {.id = workshop.new_id<Handover>(),
            .thing = Thing(coil),
            .to = {.where = Whereabouts::rig, .rig = rig.id, .role = role},
            .at = workshop.surroundings().now(),
            .by = workshop.surroundings().who,
            .note = ""};
}

std::optional<Id<Coil>> tip_on(const CustodyNow& custody, const Rig& rig) {
    for (const auto& part : custody.in_rig(rig.id)) {
        if (part.role == RigRole::tip) return part.coil;
    }
    return std::nullopt;
}

WalletTip wallet_tip(Inventory& inventory, const Id<Coil>& coil) {
    return {coil, inventory.code_of(Thing(coil)), inventory.grade_of(coil)};
}

std::vector<WalletTip> wallet_of(Inventory& inventory, const Rig& rig) {
    std::vector<WalletTip> wallet;
    for (const auto& part : inventory.custody().in_rig(rig.id)) {
        if (part.role == RigRole::wallet) wallet.push_back(wallet_tip(inventory, part.coil));
    }
    return wallet;
}

// The tip that is to be put on.
Result<WalletTip> chosen_tip(Inventory& inventory, const Rig& rig, std::string_view code) {
    const auto wallet = wallet_of(inventory, rig);
    std::optional<WalletTip> on;
    if (const auto tip = tip_on(inventory.custody(), rig)) on = wallet_tip(inventory, *tip);
    if (wallet.empty()) {
        return problem("rig", "the wallet of rig " + rig.code + " is empty",
                       "'coilbook rig put " + rig.code + " CODE... --as wallet' first");
    }
    if (trimmed(code).empty()) return *next_tip(on, wallet);
    const auto thing = inventory.thing_called(code);
    if (!thing) return tl::unexpected(thing.error());
    std::vector<std::string> codes;
    for (const auto& tip : wallet) {
        if (Thing(tip.coil) == *thing) return tip;
        codes.push_back(tip.code);
    }
    return problem("code", coilbook::quoted(code) + " is not in the wallet of rig " + rig.code,
                   listed(codes));
}

// From light to dense; what is not known comes first.
int rank_of(Inventory& inventory, const Id<Coil>& coil) {
    const auto grade = inventory.grade_of(coil);
    return grade ? grade->rank() : DensityGrade::floating().rank() - 1;
}

std::string part_name(RigRole role) {
    return role == RigRole::wallet ? "in the wallet" : std::string(name_of(role));
}

}  // namespace

Result<Rig> add_rig(Workshop& workshop, const RigWords& words) {
    const Rig rig{.id = workshop.new_id<Rig>(),
                  .code = words.code.empty() ? new_code(workshop) : words.code,
                  .name = words.name,
                  .line_size = words.line_size,
                  .rod = words.rod,
                  .reel = words.reel,
                  .backing = words.backing,
                  .running_line = words.running_line,
                  .notes = words.notes,
                  .made_at = workshop.surroundings().now()};
    const auto added = workshop.catalogue().act(
        workshop.note("add rig " + rig.code),
        [&](store::Act& act) { return workshop.catalogue().rigs().add(act, rig); });
    if (!added) return tl::unexpected(added.error());
    return rig;
}

Result<void> change_rig(Workshop& workshop, const Rig& rig) {
    return workshop.catalogue().act(workshop.note("change rig " + rig.code), [&](store::Act& act) {
        return workshop.catalogue().rigs().change(act, rig);
    });
}

std::vector<Rig> rigs(Workshop& workshop) {
    auto all = workshop.catalogue().rigs().list();
    std::erase_if(all, &Rig::is_retired);
    return all;
}

Result<Rig> rig_called(Workshop& workshop, std::string_view code) {
    auto& rigs = workshop.catalogue().rigs();
    const auto meant = read_given_code(trimmed(code));
    for (const auto& each : {std::string(trimmed(code)), meant.value_or("")}) {
        if (const auto one = check_only_one_has(workshop, each); !one) {
            return tl::unexpected(one.error());
        }
        if (const auto found = rigs.by_code(each)) return *found;
    }
    return tl::unexpected(unknown_code(workshop, CodeOf::rig, code));
}

Result<void> string_rig(Workshop& workshop, const Rig& rig, const std::vector<std::string>& codes,
                        RigRole role) {
    Inventory inventory(workshop);
    std::vector<Id<Coil>> coils;
    for (const auto& code : codes) {
        const auto thing = inventory.thing_called(code);
        if (!thing) return tl::unexpected(thing.error());
        const auto* coil = std::get_if<Id<Coil>>(&*thing);
        if (coil == nullptr) {
            return problem("code", coilbook::quoted(code) + " is a rig", "the code of a coil");
        }
        const auto place = inventory.custody().place_of(*thing);
        const bool is_here = place.where == Whereabouts::bin || place.rig == rig.id;
        if (!is_here) {
            return problem("code", coilbook::quoted(code) + " is " + inventory.words_for(place),
                           "'coilbook hand back " + inventory.code_of(*thing) + "' first");
        }
        coils.push_back(*coil);
    }
    const auto what =
        fmt::format("put {} into rig {} as {}", listed(codes), rig.code, name_of(role));
    auto& custody = workshop.catalogue().custody();
    const auto was_on = tip_on(inventory.custody(), rig);
    return workshop.catalogue().act(workshop.note(what), [&](store::Act& act) -> Result<void> {
        if (role == RigRole::tip && was_on && std::ranges::find(coils, *was_on) == coils.end()) {
            const auto off = custody.add(act, into_rig(workshop, *was_on, rig, RigRole::wallet));
            if (!off) return off;
        }
        for (std::size_t at = 0; at < coils.size(); ++at) {
            // Of several tips the last one is on.
            const bool is_last = at + 1 == coils.size();
            const auto as = role == RigRole::tip && !is_last ? RigRole::wallet : role;
            if (auto done = custody.add(act, into_rig(workshop, coils[at], rig, as)); !done) {
                return done;
            }
        }
        return {};
    });
}

Result<TipChange> change_tip(Workshop& workshop, const Rig& rig, std::string_view code) {
    Inventory inventory(workshop);
    const auto chosen = chosen_tip(inventory, rig, code);
    if (!chosen) return tl::unexpected(chosen.error());
    const auto was_on = tip_on(inventory.custody(), rig);
    auto& custody = workshop.catalogue().custody();
    const auto done = workshop.catalogue().act(
        workshop.note(fmt::format("put tip {} on rig {}", chosen->code, rig.code)),
        [&](store::Act& act) -> Result<void> {
            if (was_on) {
                const auto off =
                    custody.add(act, into_rig(workshop, *was_on, rig, RigRole::wallet));
                if (!off) return off;
            }
            return custody.add(act, into_rig(workshop, chosen->coil, rig, RigRole::tip));
        });
    if (!done) return tl::unexpected(done.error());
    TipChange change{{}, chosen->code};
    if (was_on) change.off = inventory.code_of(Thing(*was_on));
    return change;
}

std::vector<RigPart> parts_of(Inventory& inventory, const Rig& rig) {
    std::map<Id<Coil>, KnownCoil> known;
    for (auto& coil : inventory.known_coils()) known.emplace(coil.coil, std::move(coil));
    std::vector<RigPart> parts;
    for (const auto& [coil, role] : inventory.custody().in_rig(rig.id)) {
        const Thing thing(coil);
        const auto found = known.find(coil);
        parts.push_back({role, coil, inventory.code_of(thing), inventory.words_for(thing),
                         found == known.end() ? std::vector<LineSize>() : found->second.fits});
    }
    constexpr std::array outwards{RigRole::head, RigRole::tip, RigRole::leader, RigRole::wallet};
    std::ranges::stable_sort(parts, {}, [&](const RigPart& part) {
        const bool is_spare = part.role == RigRole::wallet;
        return std::tuple(std::ranges::find(outwards, part.role) - outwards.begin(),
                          is_spare ? rank_of(inventory, part.coil) : 0,
                          is_spare ? part.code : std::string());
    });
    if (const auto next = chosen_tip(inventory, rig, {})) {
        for (auto& part : parts) part.is_next = part.coil == next->coil;
    }
    return parts;
}

std::vector<RigPart> tips_for(Inventory& inventory, LineSize size) {
    std::vector<RigPart> tips;
    for (const auto& coil : inventory.known_coils()) {
        const Thing thing(coil.coil);
        const bool is_free = inventory.custody().place_of(thing).where == Whereabouts::bin;
        if (!is_free || std::ranges::find(coil.fits, size) == coil.fits.end()) continue;
        tips.push_back(
            {RigRole::tip, coil.coil, inventory.code_of(thing), coil.class_name, coil.fits});
    }
    std::ranges::stable_sort(tips, std::ranges::greater{},
                             [&](const RigPart& part) { return rank_of(inventory, part.coil); });
    return tips;
}

void write_rigs(Workshop& workshop, std::ostream& out, Format format, std::size_t terminal_width) {
    Inventory inventory(workshop);
    RowWriter writer(out,
                     {{"code"},
                      {"name"},
                      {"line_size", true},
                      {"tip"},
                      {"wallet", true},
                      {"place", false, 4, 1}},
                     format, terminal_width);
    for (const auto& rig : inventory.rigs()) {
        std::string tip;
        std::int64_t in_wallet = 0;
        for (const auto& part : inventory.custody().in_rig(rig.id)) {
            if (part.role == RigRole::tip) tip = inventory.code_of(Thing(part.coil));
            in_wallet += part.role == RigRole::wallet ? 1 : 0;
        }
        writer.add({rig.code, cell_of(rig.name),
                    rig.line_size ? Cell(std::int64_t{rig.line_size->number}) : Cell{},
                    cell_of(tip), in_wallet,
                    inventory.words_for(inventory.custody().place_of(Thing(rig.id)))});
    }
    writer.finish();
}

Result<void> write_rig(Workshop& workshop, std::string_view code, std::ostream& out, Format format,
                       std::size_t terminal_width) {
    const auto rig = rig_called(workshop, code);
    if (!rig) return tl::unexpected(rig.error());
    Inventory inventory(workshop);
    RowWriter writer(out, {{"part"}, {"code"}, {"what"}}, format, terminal_width);
    for (const auto& [part, words] : {std::pair{"rod", rig->rod},
                                      {"reel", rig->reel},
                                      {"backing", rig->backing},
                                      {"running line", rig->running_line}}) {
        if (!words.empty()) writer.add({std::string(part), Cell{}, words});
    }
    for (const auto& part : parts_of(inventory, *rig)) {
        writer.add({part_name(part.role), part.code, part.what});
    }
    writer.finish("'coilbook rig tip " + rig->code + "' puts the next tip of the wallet on.");
    return {};
}

labels::LabelContent label_of_rig(Inventory& inventory, const Rig& rig, bool with_notes) {
    labels::LabelContent content{
        .code = rig.code, .name = rig.name, .figures = {}, .notes = {}, .mark = {}};
    if (rig.line_size) {
        content.name =
            "size " + name_of(*rig.line_size) + (rig.name.empty() ? "" : ": " + rig.name);
    }
    for (const auto& words : {rig.rod, rig.reel, rig.running_line}) {
        if (!words.empty() && content.figures.size() < 2) content.figures.push_back(words);
    }
    for (const auto& part : inventory.custody().in_rig(rig.id)) {
        if (part.role == RigRole::head) {
            content.figures.push_back("head " + inventory.code_of(Thing(part.coil)));
        }
    }
    if (with_notes) content.notes = rig.notes;
    return content;
}

}  // namespace coilbook::app
