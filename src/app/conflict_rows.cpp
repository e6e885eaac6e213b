#include "app/conflict_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "app/backups.h"
#include "app/codes.h"
#include "app/instruments.h"
#include "app/inventory.h"
#include "base/text.h"
#include "quantity/print.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/conflicts.h"
#include "store/custody_repository.h"
#include "store/history_repository.h"
#include "store/outing_repository.h"
#include "store/rig_repository.h"
#include "store/settling.h"

namespace coilbook::app {
namespace {

using store::Conflict;
using store::ConflictKind;

std::string words_of(const db::Value& value) {
    if (const auto* integer = std::get_if<std::int64_t>(&value)) return std::to_string(*integer);
    if (const auto* real = std::get_if<double>(&value)) return exact(*real);
    if (const auto* text = std::get_if<std::string>(&value)) return *text;
    return "nothing";
}

class Words {
  public:
    explicit Words(Workshop& workshop) : workshop_(workshop), inventory_(workshop) {}

    // "coil A7", "class T-11", "setting pace".
    std::string of_thing(const std::string& table, const std::string& thing) {
        auto& catalogue = workshop_.catalogue();
        if (table == "reference_class") return "class " + thing;
        if (table == "coil") {
            const auto id = Id<Coil>::from_text(thing);
            return "coil " + (id ? inventory_.code_of(Thing(*id)) : thing);
        }
        if (table == "rig") {
            const auto id = Id<Rig>::from_text(thing);
            return "rig " + (id ? inventory_.code_of(Thing(*id)) : thing);
        }
        if (table == "boat") {
            const auto id = Id<Boat>::from_text(thing);
            return "boat " + (id ? inventory_.boat_name(*id) : thing);
        }
        if (table == "client") {
            const auto id = Id<Client>::from_text(thing);
            return "client " + (id ? inventory_.client_code(*id) : thing);
        }
        if (table == "setting") return "setting " + thing;
        for (const auto& change : changes_of_birth(catalogue, thing)) {
            if (change.field == "code") return table + " " + words_of(change.became);
        }
        return table + " " + thing;
    }

    std::string of_choice(const Conflict& conflict, const store::Choice& choice) {
        switch (conflict.kind) {
            case ConflictKind::field:
            case ConflictKind::reading:
                return words_of(choice.value);
            case ConflictKind::ended:
                if (choice.stands || &choice == &conflict.choices.back()) {
                    return conflict.field == "is_undone" ? "undone" : "ended";
                }
                return "in use";
            case ConflictKind::confirmation: {
                const auto name = words_of(choice.value);
                return name.empty() ? "taken back" : name;
            }
            case ConflictKind::place:
                return of_handover(conflict, choice.thing);
            case ConflictKind::tip:
                return tip_as(words_of(choice.value));
            case ConflictKind::code:
                return made_as(choice);
        }
        return "";
    }

    std::optional<store::HistoryEntry> entry_of(const store::Choice& choice) {
        const auto id = Id<store::Act>::from_text(choice.act);
        return id ? workshop_.catalogue().history().by_id(*id) : std::nullopt;
    }

  private:
    static std::vector<store::FieldChange> changes_of_birth(const store::Catalogue& catalogue,
                                                            const std::string& thing) {
        const auto acts = catalogue.history().of_thing(thing);
        if (acts.empty()) return {};
        auto changes = catalogue.history().changes_of(acts.back().note.id);
        std::erase_if(changes, [&](const auto& change) { return change.thing != thing; });
        return changes;
    }

    // "coil A7, T-11".
    std::string tip_as(const std::string& code) {
        const auto coil = inventory_.thing_called(code);
        return "coil " + code + (coil ? ", " + inventory_.words_for(*coil) : "");
    }
    // "coil, T-11, made 2026-06-14 06:00 UTC on boat laptop".
    std::string made_as(const store::Choice& choice) {
        auto what = words_of(choice.value);
        if (what == "coil") {
            const auto coil = Id<Coil>::from_text(choice.thing);
            what += coil ? ", " + inventory_.words_for(Thing(*coil)) + "," : "";
        }
        const auto entry = entry_of(choice);
        if (!entry) return what;
        return what + " made " + moment_in_words(entry->note.at) +
               (entry->note.laptop.empty() ? "" : " on " + entry->note.laptop);
    }

    std::string of_handover(const Conflict& conflict, const std::string& handover) {
        const auto coil = Id<Coil>::from_text(conflict.thing);
        const auto rig = Id<Rig>::from_text(conflict.thing);
        const auto thing = conflict.table == "coil" ? Thing(*coil) : Thing(*rig);
        for (const auto& each : workshop_.catalogue().custody().all_of(thing)) {
            if (each.id.text() == handover) return inventory_.words_for(each.to);
        }
        return "";
    }

    Workshop& workshop_;
    Inventory inventory_;
};

std::string thing_of(const Conflict& conflict, Words& words) {
    if (conflict.kind != ConflictKind::code) return words.of_thing(conflict.table, conflict.thing);
    const auto code = conflict.thing.empty() ? "the default one" : conflict.thing;
    return conflict.table == "thing" ? code : conflict.table + " " + code;
}

Result<Conflict> conflict_named(Workshop& workshop, std::string_view name) {
    const auto wanted = lower_ascii(trimmed(name));
    std::vector<Conflict> found;
    for (auto& conflict : workshop.catalogue().conflicts().list()) {
        if (!wanted.empty() && conflict.id.starts_with(wanted)) found.push_back(conflict);
    }
    if (found.size() == 1) return found.front();
    return problem("conflict",
                   coilbook::quoted(name) + (found.empty() ? " is nothing that is to be settled"
                                                           : " is the beginning of several"),
                   "one that 'coilbook conflicts list' shows");
}

// A code in place of the one that is shared; of a boat a name, of an instrument a code as well.
std::string new_code_for(Workshop& workshop, const std::string& table, const std::string& code,
                         std::set<std::string>& given) {
    if (table != "boat" && table != "instrument") return new_code(workshop);
    std::set<std::string> taken = given;
    for (const auto& boat : workshop.catalogue().outings().boats()) taken.insert(boat.name);
    for (const auto& each : known_instruments(workshop)) taken.insert(each.key.code);
    for (int n = 2;; ++n) {
        auto next = table == "boat" ? fmt::format("{} {}", code, n)
                    : code.empty()  ? fmt::format("other-{}", n)
                                    : fmt::format("{}-{}", code, n);
        if (given.insert(next).second && !taken.contains(next)) return next;
    }
}

}  // namespace

std::vector<ConflictToSettle> conflicts_of(Workshop& workshop) {
    const auto found = workshop.catalogue().conflicts().list();
    std::vector<ConflictToSettle> conflicts;
    if (found.empty()) return conflicts;
    Words words(workshop);
    for (const auto& conflict : found) {
        ConflictToSettle told{conflict.id,
                              std::string(name_of(conflict.kind)),
                              thing_of(conflict, words),
                              conflict.field,
                              {}};
        for (const auto& choice : conflict.choices) {
            ConflictChoice said{words.of_choice(conflict, choice), choice.stands, {}, {}, {}, {}};
            if (const auto entry = words.entry_of(choice)) {
                said.at = entry->note.at;
                said.who = entry->note.who;
                said.laptop = entry->note.laptop;
                said.what = entry->note.what;
            }
            told.choices.push_back(std::move(said));
        }
        conflicts.push_back(std::move(told));
    }
    return conflicts;
}

std::size_t write_conflicts(Workshop& workshop, std::ostream& out, Format format,
                            std::size_t terminal_width) {
    const bool is_table = format == Format::table;
    RowWriter writer(out,
                     {{"conflict"},
                      {"kind", false, 4, 3},
                      {"thing"},
                      {"field"},
                      {"choice", true},
                      {"value"},
                      {"stands"},
                      {"at", false, 4, 4},
                      {"who", false, 4, 2},
                      {"laptop", false, 4, 1},
                      {"what", false, 4, 5}},
                     format, terminal_width);
    const auto conflicts = conflicts_of(workshop);
    for (const auto& conflict : conflicts) {
        std::int64_t number = 0;
        for (const auto& choice : conflict.choices) {
            writer.add({conflict.id, conflict.kind, conflict.thing, conflict.field, ++number,
                        cell_of(choice.value),
                        cell_of(choice.stands ? "yes" : (is_table ? "" : "no")),
                        cell_of(choice.at ? to_text(*choice.at) : ""), cell_of(choice.who),
                        cell_of(choice.laptop), cell_of(choice.what)});
        }
    }
    writer.finish("'coilbook conflicts settle CONFLICT CHOICE' says what is right.");
    return conflicts.size();
}

Result<std::vector<std::string>> settle(Workshop& workshop, std::string_view name, int choice) {
    const auto conflict = conflict_named(workshop, name);
    if (!conflict) return tl::unexpected(conflict.error());
    std::vector<std::string> done;
    std::string what;
    {
        Words words(workshop);
        what = thing_of(*conflict, words);
        if (conflict->kind != ConflictKind::code) what += ", " + conflict->field;
        if (choice >= 1 && choice <= static_cast<int>(conflict->choices.size())) {
            const auto at = static_cast<std::size_t>(choice - 1);
            what += ": " + words.of_choice(*conflict, conflict->choices[at]);
        }
    }
    std::set<std::string> given;
    const store::SettlingMeans means{.new_id = [&] { return workshop.new_id<Reading>().text(); },
                                     .new_code =
                                         [&](const std::string& table, const std::string& code) {
                                             return new_code_for(workshop, table, code, given);
                                         }};
    const auto settled =
        workshop.catalogue().act(workshop.note("settle " + what), [&](store::Act& act) {
            return workshop.catalogue().settling().settle(
                act, *conflict, static_cast<std::size_t>(choice - 1), means);
        });
    if (!settled) return tl::unexpected(settled.error());
    workshop.refresh();
    done.push_back("settled " + what);
    for (const auto& [table, was, code] : *settled) {
        done.push_back(
            fmt::format("the other {} {} is {} now{}", table, was, code,
                        table == "coil" || table == "rig" ? ": it needs a new label" : ""));
    }
    return done;
}

}  // namespace coilbook::app
