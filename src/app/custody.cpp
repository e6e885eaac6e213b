#include "app/custody.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "app/day.h"
#include "app/outfit.h"
#include "base/text.h"
#include "store/coil_repository.h"
#include "store/custody_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"

namespace coilbook::app {
namespace {

// The place that the request names, for a thing that is now at `now`.
Place place_for(const HandRequest& request, const std::optional<Id<Boat>>& boat,
                const std::optional<Id<Client>>& client, const Place& now) {
    Place place{.where = request.to};
    switch (request.to) {
        case Whereabouts::boat:
            place.boat = boat;
            break;
        case Whereabouts::lost:
        case Whereabouts::damaged:
        case Whereabouts::retired:
            place.boat = boat ? boat : now.boat;
            break;
        case Whereabouts::lent:
            place.client = client;
            break;
        case Whereabouts::bin:
        case Whereabouts::rig:
            break;
    }
    return place;
}

// Why that cannot be done to a thing that is at `now`, in the end; empty where it can.
std::string objection(Inventory& inventory, const Place& now, const Place& wanted) {
    switch (refusal_of(now, wanted)) {
        case Refusal::none:
            return "";
        case Refusal::already_there:
            return "is " + inventory.words_for(now) + " already";
        case Refusal::not_at_hand:
            return "is " + inventory.words_for(now);
    }
    return "";
}

std::string act_words(const HandRequest& request) {
    auto codes = request.codes;
    const bool are_many = codes.size() > 5;
    if (are_many) codes.resize(4);
    if (are_many) codes.push_back(fmt::format("{} more", request.codes.size() - 4));
    const auto what = listed(codes);
    switch (request.to) {
        case Whereabouts::bin:
            return "take back " + what;
        case Whereabouts::boat:
            return fmt::format("hand {} out to {}", what, request.boat);
        case Whereabouts::lent:
            return "lend " + what;
        case Whereabouts::rig:
            return "put " + what + " into a rig";
        case Whereabouts::lost:
        case Whereabouts::damaged:
        case Whereabouts::retired:
            return fmt::format("note {} as {}", what, name_of(request.to));
    }
    return "hand over " + what;
}

// Its code becomes free.
Result<void> retire(store::Catalogue& catalogue, store::Act& act, const Thing& thing) {
    if (const auto* id = std::get_if<Id<Rig>>(&thing)) {
        auto rig = *catalogue.rigs().by_id(*id);
        rig.is_retired = true;
        return catalogue.rigs().change(act, rig);
    }
    auto coil = *catalogue.coils().by_id(std::get<Id<Coil>>(thing));
    coil.is_retired = true;
    return catalogue.coils().change(act, coil);
}

struct Wanted {
    Thing thing;
    Place place;
};

Result<std::vector<Wanted>> wanted_by(Workshop& workshop, Inventory& inventory,
                                      const HandRequest& request) {
    std::optional<Id<Boat>> boat;
    if (!request.boat.empty()) {
        const auto found = boat_called(workshop, request.boat);
        if (!found) return tl::unexpected(found.error());
        boat = found->id;
    } else if (request.to == Whereabouts::boat) {
        return problem("boat", "no boat is named", "the boat that takes it");
    }
    std::optional<Id<Client>> client;
    if (!request.client.empty()) {
        const auto found = client_called(workshop, request.client);
        if (!found) return tl::unexpected(found.error());
        client = found->id;
    }
    std::vector<Wanted> wanted;
    std::set<Thing> named;
    for (const auto& code : request.codes) {
        const auto thing = inventory.thing_called(code);
        if (!thing) return tl::unexpected(thing.error());
        if (!named.insert(*thing).second) {
            return problem("code", coilbook::quoted(code) + " is named twice", "each thing once");
        }
        const auto now = inventory.custody().place_in_the_end(*thing);
        const auto place = place_for(request, boat, client, now);
        if (const auto* rig = std::get_if<Id<Rig>>(&*thing);
            rig != nullptr && request.to == Whereabouts::retired) {
            std::vector<std::string> parts;
            for (const auto& part : inventory.custody().in_rig(*rig)) {
                parts.push_back(inventory.code_of(Thing(part.coil)));
            }
            if (!parts.empty()) {
                return problem("code",
                               "rig " + coilbook::quoted(code) + " still has " + listed(parts),
                               "take them out first");
            }
        }
        if (const auto why = objection(inventory, now, place); !why.empty()) {
            return problem(
                "code", coilbook::quoted(code) + " " + why,
                "'coilbook hand back " + inventory.code_of(*thing) + "' first, if it is here");
        }
        wanted.push_back({*thing, place});
    }
    return wanted;
}

void count_promised(Workshop& workshop, Inventory& inventory, Day today,
                    std::map<std::string, StockRow>& rows) {
    auto& outings = workshop.catalogue().outings();
    const auto coils = inventory.known_coils();
    for (const auto& day : outings.days()) {
        if (day < today) continue;
        const DayPlan plan{outings.outings_on(day), outings.promises_on(day)};
        std::map<std::string, int> promised;
        for (const auto& thing : promised_things(plan, inventory.custody())) {
            ++promised[inventory.class_of(thing)];
        }
        for (const auto& need : needs_against_stock(plan, inventory.custody(), coils)) {
            promised[need.class_name] += need.needed;
            auto& row = rows[need.class_name];
            row.missing = std::max(row.missing, need.missing());
        }
        for (const auto& [name, count] : promised) {
            rows[name].promised = std::max(rows[name].promised, count);
        }
    }
}

}  // namespace

std::string minute_of(Instant at) {
    auto text = to_text(at).substr(0, 16);
    text[10] = ' ';
    return text;
}

Result<std::vector<std::string>> hand_over(Workshop& workshop, const HandRequest& request) {
    Inventory inventory(workshop);
    const auto wanted = wanted_by(workshop, inventory, request);
    if (!wanted) return tl::unexpected(wanted.error());
    auto& catalogue = workshop.catalogue();
    const auto done = catalogue.act(
        workshop.note(act_words(request), request.note), [&](store::Act& act) -> Result<void> {
            double count = 0;
            for (const auto& [thing, place] : *wanted) {
                // The rest is sealing them and writing them to the disk.
                workshop.progress().reached(0.8 * count++ / static_cast<double>(wanted->size()));
                const Handover handover{
                    workshop.new_id<Handover>(), thing,       place, workshop.surroundings().now(),
                    workshop.surroundings().who, request.note};
                if (auto added = catalogue.custody().add(act, handover); !added) return added;
                if (place.where != Whereabouts::retired) continue;
                if (auto retired = retire(catalogue, act, thing); !retired) return retired;
            }
            return {};
        });
    if (!done) return tl::unexpected(done.error());
    std::vector<std::string> sentences;
    for (const auto& [thing, place] : *wanted) {
        sentences.push_back(inventory.code_of(thing) + ": " + inventory.words_for(place));
    }
    return sentences;
}

Result<std::string> where_is(Workshop& workshop, std::string_view code) {
    Inventory inventory(workshop);
    return where_is(inventory, code);
}

Result<std::string> where_is(Inventory& inventory, std::string_view code) {
    const auto thing = inventory.thing_called(code);
    if (!thing) return tl::unexpected(thing.error());
    const auto& custody = inventory.custody();
    const auto place = custody.place_of(*thing);
    auto words = inventory.code_of(*thing) + " (" + inventory.words_for(*thing) +
                 "): " + inventory.words_for(place);
    if (place.rig) {
        const auto of_rig = custody.place_of(Thing(*place.rig));
        words += ", the rig " + inventory.words_for(of_rig);
    }
    const auto standing = custody.standings().find(*thing);
    if (standing == custody.standings().end()) return words;
    words += fmt::format(", since {} UTC", minute_of(standing->second.last.at));
    if (!standing->second.last.by.empty()) words += " (" + standing->second.last.by + ")";
    if (standing->second.is_disputed()) {
        words += "; another copy handed it over meanwhile: say where it is";
    }
    return words;
}

Result<std::vector<CustodyLine>> custody_of(Workshop& workshop, Inventory& inventory,
                                            std::string_view code) {
    const auto thing = inventory.thing_called(code);
    if (!thing) return tl::unexpected(thing.error());
    std::vector<CustodyLine> lines;
    for (const auto& handover : workshop.catalogue().custody().all_of(*thing)) {
        lines.push_back(
            {handover.at, inventory.words_for(handover.to), handover.by, handover.note});
    }
    std::ranges::reverse(lines);
    return lines;
}

Result<void> write_custody_of(Workshop& workshop, std::string_view code, std::ostream& out,
                              Format format, std::size_t terminal_width) {
    Inventory inventory(workshop);
    const auto lines = custody_of(workshop, inventory, code);
    if (!lines) return tl::unexpected(lines.error());
    RowWriter writer(out, {{"at"}, {"place"}, {"by"}, {"note"}}, format, terminal_width);
    for (const auto& line : *lines) {
        writer.add({to_text(line.at), line.place, cell_of(line.by), cell_of(line.note)});
    }
    writer.finish();
    return {};
}

std::vector<Thing> things_of(Inventory& inventory, std::string_view class_name) {
    std::vector<Thing> things;
    for (std::size_t at = 0; at < inventory.bin().size(); ++at) {
        const Thing thing(inventory.bin().entry(at).coil.id);
        if (inventory.class_of(thing) == class_name) things.push_back(thing);
    }
    for (const auto& rig : inventory.rigs()) {
        if (inventory.class_of(Thing(rig.id)) == class_name) things.emplace_back(rig.id);
    }
    return things;
}

std::vector<StockRow> stock_of(Workshop& workshop, Inventory& inventory, Day today) {
    std::map<std::string, StockRow> rows;
    std::set<Thing> disputed;
    for (const auto& thing : inventory.custody().disputed()) disputed.insert(thing);
    const auto count = [&](const Thing& thing) {
        auto& row = rows[inventory.class_of(thing)];
        ++row.counts[inventory.custody().place_in_the_end(thing).where];
        row.disputed += disputed.contains(thing) ? 1 : 0;
        ++row.total;
    };
    for (std::size_t at = 0; at < inventory.bin().size(); ++at) {
        count(Thing(inventory.bin().entry(at).coil.id));
    }
    for (const auto& rig : inventory.rigs()) count(Thing(rig.id));
    count_promised(workshop, inventory, today, rows);
    std::vector<StockRow> listed_rows;
    for (auto& [name, row] : rows) {
        row.class_name = name;
        listed_rows.push_back(std::move(row));
    }
    return listed_rows;
}

void write_stock(Workshop& workshop, std::ostream& out, Format format, std::size_t terminal_width) {
    Inventory inventory(workshop);
    RowWriter writer(out,
                     {{"class"},
                      {"bin", true},
                      {"rig", true},
                      {"boat", true},
                      {"lent", true},
                      {"damaged", true},
                      {"lost", true},
                      {"disputed", true},
                      {"total", true},
                      {"promised", true},
                      {"missing", true}},
                     format, terminal_width);
    for (auto& row : stock_of(workshop, inventory, today(workshop))) {
        std::vector<Cell> cells{row.class_name};
        for (const auto where : {Whereabouts::bin, Whereabouts::rig, Whereabouts::boat,
                                 Whereabouts::lent, Whereabouts::damaged, Whereabouts::lost}) {
            cells.emplace_back(std::int64_t{row.counts[where]});
        }
        for (const int count : {row.disputed, row.total, row.promised, row.missing}) {
            cells.emplace_back(std::int64_t{count});
        }
        writer.add(cells);
    }
    writer.finish(
        "What is in a rig is counted where the rig is. Retired coils are left out. Promised and "
        "missing: on the coming day that needs, or misses, most.");
}

std::vector<OutThing> things_out(Inventory& inventory) {
    const auto& custody = inventory.custody();
    std::vector<OutThing> things;
    for (const auto& thing : custody.out()) {
        const auto& standing = custody.standings().at(thing);
        things.push_back(
            {thing, inventory.boat_name(*custody.place_in_the_end(thing).boat),
             inventory.code_of(thing), inventory.words_for(thing),
             standing.last.to.rig ? inventory.words_for(standing.last.to) : std::string(),
             standing.last.at, standing.last.by, standing.is_disputed()});
    }
    std::ranges::sort(things, {}, [&](const OutThing& each) {
        const auto place = custody.place_of(each.thing);
        const auto above = place.rig ? inventory.code_of(Thing(*place.rig)) : each.code;
        return std::tuple(each.boat, above, place.rig.has_value(), each.code);
    });
    return things;
}

std::size_t write_out(Workshop& workshop, std::ostream& out, Format format,
                      std::size_t terminal_width) {
    Inventory inventory(workshop);
    const auto things = things_out(inventory);
    RowWriter writer(out,
                     {{"boat"},
                      {"code"},
                      {"what"},
                      {"within"},
                      {"since", false, 4, 1},
                      {"by", false, 4, 2},
                      {"disputed", false, 4, 3}},
                     format, terminal_width);
    for (const auto& each : things) {
        writer.add({each.boat, each.code, each.what, cell_of(each.within), to_text(each.since),
                    cell_of(each.by), each.is_disputed ? Cell("yes") : Cell("no")});
    }
    writer.finish(
        "'coilbook hand back CODE...' when it is here, 'coilbook hand lost CODE...' when it "
        "is not.");
    return things.size();
}

}  // namespace coilbook::app
