#include "app/day.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "app/outfit.h"
#include "base/text.h"
#include "store/client_repository.h"
#include "store/outing_repository.h"

namespace coilbook::app {
namespace {

DayPlan plan_of(Workshop& workshop, Day day) {
    auto& outings = workshop.catalogue().outings();
    return {outings.outings_on(day), outings.promises_on(day)};
}

// The boat's outings on the day, those with the client if one is named.
Result<std::vector<Outing>> outings_of(Workshop& workshop, Day day, std::string_view boat,
                                       std::string_view client) {
    const auto found = boat_called(workshop, boat);
    if (!found) return tl::unexpected(found.error());
    std::optional<Id<Client>> wanted;
    if (!client.empty()) {
        const auto known = client_called(workshop, client);
        if (!known) return tl::unexpected(known.error());
        wanted = known->id;
    }
    std::vector<Outing> outings;
    for (const auto& outing : workshop.catalogue().outings().outings_on(day)) {
        if (outing.boat == found->id && (!wanted || outing.client == wanted)) {
            outings.push_back(outing);
        }
    }
    if (outings.empty()) {
        return problem(
            "outing",
            fmt::format("boat {} does not go out on {}{}", found->name, day_text(day),
                        client.empty() ? "" : " with that client"),
            fmt::format("'coilbook outing add {} \"{}\"' first", day_text(day), found->name));
    }
    return outings;
}

Result<void> add_promises(Workshop& workshop, const std::string& what,
                          const std::vector<Promise>& promises) {
    return workshop.catalogue().act(workshop.note(what), [&](store::Act& act) -> Result<void> {
        for (const auto& promise : promises) {
            if (auto done = workshop.catalogue().outings().add_promise(act, promise); !done) {
                return done;
            }
        }
        return {};
    });
}

std::string words_for(Inventory& inventory, const Promise& promise) {
    if (const auto* need = std::get_if<ClassNeed>(&promise.what)) {
        return fmt::format("{} x {}", need->count, need->class_name);
    }
    if (const auto* rig = std::get_if<Id<Rig>>(&promise.what)) {
        return inventory.code_of(Thing(*rig));
    }
    return inventory.code_of(Thing(std::get<Id<Coil>>(promise.what)));
}

std::optional<Thing> thing_of(const Promise& promise) {
    if (const auto* rig = std::get_if<Id<Rig>>(&promise.what)) return Thing(*rig);
    if (const auto* coil = std::get_if<Id<Coil>>(&promise.what)) return Thing(*coil);
    return std::nullopt;
}

std::string client_words(Workshop& workshop, const Outing& outing, bool with_names) {
    if (!outing.client) return "";
    const auto client = workshop.catalogue().clients().by_id(*outing.client);
    if (!client) return outing.client->text();
    return with_names && client->person ? client->person->name : client->code;
}

// The boats of the outings, each once, by name.
std::string boats_of(Inventory& inventory, const DayPlan& plan,
                     const std::vector<Id<Outing>>& outings) {
    std::vector<std::string> names;
    for (const auto& id : outings) {
        const auto outing = std::ranges::find(plan.outings, id, &Outing::id);
        names.push_back(inventory.boat_name(outing->boat));
    }
    return listed(names);
}

void add_gaps(Inventory& inventory, const DayPlan& plan, std::vector<PlanProblem>& problems) {
    const auto coils = inventory.known_coils();
    for (const auto& row : needs_against_stock(plan, inventory.custody(), coils)) {
        if (row.missing() == 0) continue;
        problems.push_back({"too few", "", row.class_name,
                            fmt::format("{} of {} are needed and {} at hand: {} are missing",
                                        row.needed, row.class_name, row.at_hand, row.missing())});
    }
    for (const auto& gap :
         boats_without_fast_tip(plan, inventory.custody(), inventory.rigs(), coils)) {
        std::vector<std::string> codes;
        for (const auto& coil : gap.would_fill) {
            if (codes.size() < 3) codes.push_back(inventory.code_of(Thing(coil)));
        }
        const auto boat = inventory.boat_name(gap.boat);
        const auto size = "size " + name_of(gap.size);
        problems.push_back(
            {"no fast tip", boat, size,
             fmt::format("boat {} has no fast-sinking tip for its rod of {}: {}", boat, size,
                         codes.empty() ? "nothing in the bin would fill the gap"
                                       : "take " + listed(codes))});
    }
}

void add_not_at_hand(Inventory& inventory, const DayPlan& plan,
                     std::vector<PlanProblem>& problems) {
    for (const auto& promise : plan.promises) {
        const auto thing = thing_of(promise);
        if (!thing) continue;
        const auto outing = std::ranges::find(plan.outings, promise.outing, &Outing::id);
        const auto place = inventory.custody().place_in_the_end(*thing);
        const bool is_there = place.where == Whereabouts::boat && place.boat == outing->boat;
        if (is_at_hand(place.where) || is_there) continue;
        const auto code = inventory.code_of(*thing);
        problems.push_back({"not at hand", inventory.boat_name(outing->boat), code,
                            code + " is " + inventory.words_for(place)});
    }
}

}  // namespace

Result<Outing> add_outing(Workshop& workshop, Day day, std::string_view boat,
                          std::string_view client) {
    const auto found = boat_called(workshop, boat);
    if (!found) return tl::unexpected(found.error());
    Outing outing{workshop.new_id<Outing>(), day, found->id, std::nullopt};
    auto what = fmt::format("boat {} goes out on {}", found->name, day_text(day));
    if (!client.empty()) {
        const auto known = client_called(workshop, client);
        if (!known) return tl::unexpected(known.error());
        outing.client = known->id;
        what += " with client " + known->code;
    }
    workshop.catalogue().act(workshop.note(what), [&](store::Act& act) {
        workshop.catalogue().outings().add_outing(act, outing);
    });
    return outing;
}

Result<int> cancel_outings(Workshop& workshop, Day day, std::string_view boat) {
    const auto outings = outings_of(workshop, day, boat, {});
    if (!outings) return tl::unexpected(outings.error());
    workshop.catalogue().act(
        workshop.note(fmt::format("boat {} stays at home on {}", boat, day_text(day))),
        [&](store::Act& act) {
            for (const auto& outing : *outings) {
                workshop.catalogue().outings().cancel_outing(act, outing.id);
            }
        });
    return static_cast<int>(outings->size());
}

Result<void> promise_things(Workshop& workshop, Day day, std::string_view boat,
                            std::string_view client, const std::vector<std::string>& codes) {
    const auto outings = outings_of(workshop, day, boat, client);
    if (!outings) return tl::unexpected(outings.error());
    Inventory inventory(workshop);
    std::vector<Promise> promises;
    for (const auto& code : codes) {
        const auto thing = inventory.thing_called(code);
        if (!thing) return tl::unexpected(thing.error());
        Promise promise{workshop.new_id<Promise>(), outings->front().id, ClassNeed{}};
        if (const auto* rig = std::get_if<Id<Rig>>(&*thing)) promise.what = *rig;
        if (const auto* coil = std::get_if<Id<Coil>>(&*thing)) promise.what = *coil;
        promises.push_back(promise);
    }
    return add_promises(
        workshop,
        fmt::format("boat {} is to carry {} on {}", inventory.boat_name(outings->front().boat),
                    listed(codes), day_text(day)),
        promises);
}

Result<void> promise_class(Workshop& workshop, Day day, std::string_view boat,
                           std::string_view client, std::string_view class_name, int count) {
    const auto outings = outings_of(workshop, day, boat, client);
    if (!outings) return tl::unexpected(outings.error());
    const auto known = std::ranges::find(workshop.library(), class_name, &ReferenceClass::name);
    if (known == workshop.library().end()) {
        return problem("class", "there is no class " + coilbook::quoted(class_name),
                       "a class, as 'coilbook classes' names it");
    }
    return add_promises(
        workshop,
        fmt::format("boat {} is to carry {} of {} on {}", boat, count, class_name, day_text(day)),
        {{workshop.new_id<Promise>(), outings->front().id, ClassNeed{known->name, count}}});
}

Result<int> withdraw_promises(Workshop& workshop, Day day, std::string_view boat,
                              const std::vector<std::string>& codes) {
    const auto outings = outings_of(workshop, day, boat, {});
    if (!outings) return tl::unexpected(outings.error());
    Inventory inventory(workshop);
    std::vector<Id<Promise>> withdrawn;
    for (const auto& code : codes) {
        const auto thing = inventory.thing_called(code);
        if (!thing) return tl::unexpected(thing.error());
        const auto before = withdrawn.size();
        for (const auto& promise : workshop.catalogue().outings().promises_on(day)) {
            const bool is_of_boat =
                std::ranges::find(*outings, promise.outing, &Outing::id) != outings->end();
            if (is_of_boat && thing_of(promise) == *thing) withdrawn.push_back(promise.id);
        }
        if (withdrawn.size() == before) {
            return problem("code", coilbook::quoted(code) + " is not promised to that boat",
                           "what 'coilbook outing pack' lists");
        }
    }
    workshop.catalogue().act(workshop.note(fmt::format("boat {} is not to carry {} on {}", boat,
                                                       listed(codes), day_text(day))),
                             [&](store::Act& act) {
                                 for (const auto& id : withdrawn) {
                                     workshop.catalogue().outings().withdraw_promise(act, id);
                                 }
                             });
    return static_cast<int>(withdrawn.size());
}

void write_outings(Workshop& workshop, std::optional<Day> day, bool with_names, std::ostream& out,
                   Format format, std::size_t terminal_width) {
    Inventory inventory(workshop);
    RowWriter writer(out, {{"day"}, {"boat"}, {"client"}, {"carries"}}, format, terminal_width);
    const auto days = day ? std::vector{*day} : workshop.catalogue().outings().days();
    for (const auto& each : days) {
        const auto plan = plan_of(workshop, each);
        for (const auto& outing : plan.outings) {
            std::string carries;
            for (const auto& promise : plan.promises) {
                if (promise.outing != outing.id) continue;
                carries += (carries.empty() ? "" : ", ") + words_for(inventory, promise);
            }
            writer.add({day_text(each), inventory.boat_name(outing.boat),
                        cell_of(client_words(workshop, outing, with_names)), cell_of(carries)});
        }
    }
    writer.finish();
}

std::vector<PlanProblem> problems_of(Workshop& workshop, Day day) {
    const auto plan = plan_of(workshop, day);
    Inventory inventory(workshop);
    std::vector<PlanProblem> problems;
    for (const auto& twice : promised_twice(plan, inventory.custody())) {
        const auto code = inventory.code_of(twice.thing);
        problems.push_back(
            {"promised twice", "", code,
             fmt::format("{} ({}) is promised to {}", code, inventory.words_for(twice.thing),
                         boats_of(inventory, plan, twice.outings))});
    }
    add_not_at_hand(inventory, plan, problems);
    add_gaps(inventory, plan, problems);
    return problems;
}

std::size_t write_problems(Workshop& workshop, Day day, std::ostream& out, Format format,
                           std::size_t terminal_width) {
    const auto problems = problems_of(workshop, day);
    RowWriter writer(out, {{"kind"}, {"boat"}, {"what"}, {"detail"}}, format, terminal_width);
    for (const auto& each : problems) {
        writer.add({each.kind, cell_of(each.boat), each.what, each.sentence});
    }
    writer.finish();
    return problems.size();
}

Result<labels::PackingList> packing_list(Workshop& workshop, Day day, std::string_view boat,
                                         bool with_names) {
    const auto outings = outings_of(workshop, day, boat, {});
    if (!outings) return tl::unexpected(outings.error());
    Inventory inventory(workshop);
    const auto boat_id = outings->front().boat;
    const auto name = inventory.boat_name(boat_id);
    labels::PackingList list{name + ", " + day_text(day), "", {}, {}};
    std::vector<std::string> who;
    for (const auto& outing : *outings) {
        if (outing.client) who.push_back(client_words(workshop, outing, with_names));
    }
    list.who = listed(who);
    const auto add = [&](const Thing& thing, const std::string& what, bool is_within) {
        const auto place = inventory.custody().place_in_the_end(thing);
        const bool is_there = place.where == Whereabouts::boat && place.boat == boat_id;
        list.rows.push_back({inventory.code_of(thing), what, is_there, is_within});
    };
    std::set<Thing> listed_already;
    for (const auto& promise : workshop.catalogue().outings().promises_on(day)) {
        if (std::ranges::find(*outings, promise.outing, &Outing::id) == outings->end()) continue;
        const auto thing = thing_of(promise);
        if (!thing) {
            list.rows.push_back({"", words_for(inventory, promise), false, false});
            continue;
        }
        if (!listed_already.insert(*thing).second) continue;
        add(*thing, inventory.words_for(*thing), false);
        const auto* rig = std::get_if<Id<Rig>>(&*thing);
        if (rig == nullptr) continue;
        for (const auto& part : inventory.custody().in_rig(*rig)) {
            const Thing inside(part.coil);
            listed_already.insert(inside);
            add(inside, fmt::format("{}: {}", name_of(part.role), inventory.words_for(inside)),
                true);
        }
    }
    for (const auto& each : problems_of(workshop, day)) {
        const bool is_ours =
            each.boat == name ||
            (each.kind == "promised twice" &&
             std::ranges::find(list.rows, each.what, &labels::PackingRow::code) != list.rows.end());
        if (is_ours) list.warnings.push_back(each.sentence);
    }
    return list;
}

void write_packing_list(const labels::PackingList& list, std::ostream& out, Format format,
                        std::size_t terminal_width) {
    RowWriter writer(out, {{"ticked"}, {"code"}, {"what"}, {"within"}}, format, terminal_width);
    std::string above;
    for (const auto& row : list.rows) {
        if (!row.is_within) above = row.code;
        writer.add({std::string(row.is_ticked ? "yes" : "no"), cell_of(row.code), row.what,
                    cell_of(row.is_within ? above : "")});
    }
    std::string note = list.title;
    for (const auto& warning : list.warnings) note += "\n! " + warning;
    writer.finish(note);
}

}  // namespace coilbook::app
