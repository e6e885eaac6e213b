#include "app/day.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <iterator>
#include <map>
#include <set>

#include "app/labels.h"
#include "app/outfit.h"
#include "app/picture_place.h"
#include "base/error.h"
#include "base/text.h"
#include "store/client_repository.h"
#include "store/outing_repository.h"

namespace coilbook::app {
namespace {

constexpr std::size_t most_that_help = 3;

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
            if (codes.size() < most_that_help) codes.push_back(inventory.code_of(Thing(coil)));
        }
        const auto boat = inventory.boat_name(gap.boat);
        const auto size = "size " + name_of(gap.size);
        problems.push_back(
            {"no fast tip", boat, size,
             fmt::format(
                 "boat {} has no fast-sinking tip for its rod of {}: {}", boat, size,
                 codes.empty() ? "nothing in the bin would fill the gap" : "take " + listed(codes)),
             codes});
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
        const auto boat = inventory.boat_name(outing->boat);
        problems.push_back({"not at hand", boat, code,
                            fmt::format("{} is {}: boat {} is to carry it", code,
                                        inventory.words_for(place), boat)});
    }
}

void add_too_many_people(const Inventory& inventory, const DayPlan& plan,
                         std::vector<PlanProblem>& problems) {
    for (const auto& boat : inventory.boats()) {
        const auto outings = std::ranges::count(plan.outings, boat.id, &Outing::boat);
        const auto clients = std::ranges::count_if(plan.outings, [&](const Outing& outing) {
            return outing.boat == boat.id && outing.client;
        });
        if (outings == 0 || !boat.seats || clients + 1 <= *boat.seats) continue;
        problems.push_back({"too many people", boat.name, std::to_string(clients + 1),
                            fmt::format("boat {} takes {} people: {} clients and the guide are {}",
                                        boat.name, *boat.seats, clients, clients + 1)});
    }
}

// What a boat carries on the day, made row by row.
class Load {
  public:
    Load(Inventory& inventory, const DayPlan& plan, const Id<Boat>& boat)
        : inventory_(inventory), plan_(plan), boat_(boat) {
        const auto promised = promised_things(plan, custody());
        for (const auto& thing : custody().on_boat(boat)) {
            const bool is_in_rig = custody().place_of(thing).where == Whereabouts::rig;
            const bool is_promised = std::ranges::find(promised, thing) != promised.end();
            if (!is_in_rig && !is_promised) besides_.push_back(thing);
        }
    }

    [[nodiscard]] std::vector<Carried> rows() {
        for (const auto& promise : plan_.promises) {
            const auto outing = std::ranges::find(plan_.outings, promise.outing, &Outing::id);
            if (outing == plan_.outings.end() || outing->boat != boat_) continue;
            if (const auto thing = thing_of(promise)) {
                add(*thing, {});
            } else {
                add_need(std::get<ClassNeed>(promise.what));
            }
        }
        for (const auto& thing : besides_) {
            if (!listed_.contains(thing)) add(thing, ", not on the plan");
        }
        return std::move(rows_);
    }

  private:
    [[nodiscard]] const CustodyNow& custody() const { return inventory_.custody(); }

    // With a rig what is in it.
    void add(const Thing& thing, std::string_view aside) {
        if (!listed_.insert(thing).second) return;
        const auto place = custody().place_in_the_end(thing);
        const bool is_there = place.where == Whereabouts::boat && place.boat == boat_;
        rows_.push_back({.code = inventory_.code_of(thing),
                         .class_name = {},
                         .what = inventory_.words_for(thing) + std::string(aside),
                         .is_ticked = is_there,
                         .is_planned = aside.empty()});
        const auto* rig = std::get_if<Id<Rig>>(&thing);
        if (rig == nullptr) return;
        for (const auto& part : custody().in_rig(*rig)) {
            const Thing inside(part.coil);
            listed_.insert(inside);
            rows_.push_back(
                {.code = inventory_.code_of(inside),
                 .class_name = {},
                 .what = fmt::format("{}: {}", name_of(part.role), inventory_.words_for(inside)),
                 .is_ticked = is_there,
                 .is_within = true,
                 .is_planned = aside.empty()});
        }
    }
    // What is aboard of the class, and was promised by no code, counts.
    void add_need(const ClassNeed& need) {
        std::vector<Carried> counted;
        for (const auto& thing : besides_) {
            const bool is_wanted = static_cast<int>(counted.size()) < need.count &&
                                   inventory_.class_of(thing) == need.class_name;
            if (!is_wanted || !listed_.insert(thing).second) continue;
            counted.push_back({.code = inventory_.code_of(thing),
                               .class_name = {},
                               .what = inventory_.words_for(thing),
                               .is_ticked = true,
                               .is_within = true});
        }
        const bool is_complete = static_cast<int>(counted.size()) == need.count;
        auto what = fmt::format("{} x {}", need.count, need.class_name);
        if (!counted.empty() && !is_complete) what += fmt::format(", {} aboard", counted.size());
        rows_.push_back(
            {.code = {}, .class_name = need.class_name, .what = what, .is_ticked = is_complete});
        rows_.insert(rows_.end(), counted.begin(), counted.end());
    }

    Inventory& inventory_;
    const DayPlan& plan_;
    Id<Boat> boat_;
    std::vector<Thing> besides_;  // aboard, in no rig, and promised to nobody by its code
    std::set<Thing> listed_;
    std::vector<Carried> rows_;
};

bool concerns(const PlanProblem& problem, const BoatDay& day) {
    if (!problem.boat.empty()) return problem.boat == day.boat.name;
    return std::ranges::any_of(day.carries, [&](const Carried& row) {
        return row.code == problem.what || row.class_name == problem.what;
    });
}

labels::PackingList on_paper(const BoatDay& day, Day date) {
    labels::PackingList list{
        day.boat.name + ", " + day_text(date), listed(day.clients), {}, {}, cautions()};
    for (const auto& row : day.carries) {
        list.rows.push_back({row.code, row.what, row.is_ticked, row.is_within});
    }
    for (const auto& each : day.problems) list.warnings.push_back(each.sentence);
    return list;
}

}  // namespace

Day today(const Workshop& workshop) {
    const auto now = std::chrono::system_clock::to_time_t(workshop.surroundings().now());
    std::tm here{};
    localtime_r(&now, &here);
    return Day(std::chrono::year{here.tm_year + 1900} /
               std::chrono::month{static_cast<unsigned>(here.tm_mon + 1)} /
               std::chrono::day{static_cast<unsigned>(here.tm_mday)});
}

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
        const auto is_meant = [&](const Promise& promise) {
            if (const auto* need = std::get_if<ClassNeed>(&promise.what)) {
                return need->class_name == code;
            }
            return thing && thing_of(promise) == *thing;
        };
        const auto before = withdrawn.size();
        for (const auto& promise : workshop.catalogue().outings().promises_on(day)) {
            const bool is_of_boat =
                std::ranges::find(*outings, promise.outing, &Outing::id) != outings->end();
            if (is_of_boat && is_meant(promise)) withdrawn.push_back(promise.id);
        }
        if (withdrawn.size() == before && !thing) return tl::unexpected(thing.error());
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

std::vector<PlanProblem> problems_of(Workshop& workshop, Inventory& inventory, Day day) {
    const auto plan = plan_of(workshop, day);
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
    add_too_many_people(inventory, plan, problems);
    return problems;
}

std::size_t write_problems(Workshop& workshop, Day day, std::ostream& out, Format format,
                           std::size_t terminal_width) {
    Inventory inventory(workshop);
    const auto problems = problems_of(workshop, inventory, day);
    RowWriter writer(out, {{"kind"}, {"boat"}, {"what"}, {"detail"}}, format, terminal_width);
    for (const auto& each : problems) {
        writer.add({each.kind, cell_of(each.boat), each.what, each.sentence});
    }
    writer.finish();
    return problems.size();
}

std::vector<BoatDay> boats_on(Workshop& workshop, Inventory& inventory, Day day, bool with_names) {
    const auto plan = plan_of(workshop, day);
    const auto problems = problems_of(workshop, inventory, day);
    std::vector<BoatDay> boats;
    for (const auto& outing : plan.outings) {
        const auto same = [&](const BoatDay& each) { return each.boat.id == outing.boat; };
        auto boat = std::ranges::find_if(boats, same);
        if (boat == boats.end()) {
            const auto& all = inventory.boats();
            BoatDay made{*std::ranges::find(all, outing.boat, &Boat::id),
                         {},
                         Load(inventory, plan, outing.boat).rows(),
                         {}};
            std::ranges::copy_if(problems, std::back_inserter(made.problems),
                                 [&](const PlanProblem& each) { return concerns(each, made); });
            boats.push_back(std::move(made));
            boat = boats.end() - 1;
        }
        if (outing.client) boat->clients.push_back(client_words(workshop, outing, with_names));
    }
    return boats;
}

const std::vector<std::string>& cautions() {
    static const std::vector<std::string> all{
        "Wading: belt closed, staff in hand, never alone; look at the water before you step in.",
        "Boat: a life jacket worn by everybody, no more people than it takes.",
        "Hooks: off or covered before a rig is handed over; glasses and a hat for everybody.",
        "Sinking lines: some waters forbid them. Check the local regulations."};
    return all;
}

Result<labels::PackingList> packing_list(Workshop& workshop, Day day, std::string_view boat,
                                         bool with_names) {
    const auto outings = outings_of(workshop, day, boat, {});
    if (!outings) return tl::unexpected(outings.error());
    Inventory inventory(workshop);
    for (const auto& each : boats_on(workshop, inventory, day, with_names)) {
        if (each.boat.id == outings->front().boat) return on_paper(each, day);
    }
    throw Error("the boat of an outing is not in the catalogue");
}

Result<std::filesystem::path> save_packing_list(Workshop& workshop, Day day,
                                                std::string_view boat) {
    const auto list = packing_list(workshop, day, boat);
    if (!list) return tl::unexpected(list.error());
    auto file = picture_place(workshop, "pack-" + day_text(day) + "-" + lower_ascii(trimmed(boat)),
                              {".pdf"});
    file += ".pdf";
    write_file(file, labels::packing_pdf(*list, labels::letter_paper()));
    return file;
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
