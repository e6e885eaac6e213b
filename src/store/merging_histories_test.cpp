// Random histories of two to five copies that are changed apart, meet now and then in any order,
// and at last all meet: they must then be the same, and hold everything that anybody did.
//
// What each act knew of is kept here, outside the catalogues: so an act that forgets what it has
// seen, or stands before what it was built on, is found out.

#include <cstdlib>
#include <map>
#include <random>
#include <set>
#include <tuple>
#include <vector>

#include "store/care_repository.h"
#include "store/check_repository.h"
#include "store/class_repository.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/conflicts.h"
#include "store/custody_repository.h"
#include "store/instrument_repository.h"
#include "store/kinds.h"
#include "store/merging.h"
#include "store/outing_repository.h"
#include "store/reading_repository.h"
#include "store/rig_repository.h"
#include "store/setting_repository.h"
#include "store/undoing.h"
#include "support/a_coil.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

int histories() {
    const char* wanted = std::getenv("COILBOOK_HISTORIES");
    return wanted ? std::atoi(wanted) : 6;
}

using Known = std::set<std::string>;  // acts, by id

struct Copy {
    Catalogue catalogue = Catalogue::in_memory();
    std::chrono::milliseconds clock_is_off{0};
    Known known;
};

class World {
    int between(int low, int high) { return std::uniform_int_distribution{low, high}(chance_); }
    template <class Things>
    auto& any_of(Things& things) {
        return things[static_cast<std::size_t>(between(0, static_cast<int>(things.size()) - 1))];
    }
    Instant now_on(const Copy& copy) const { return now_ + copy.clock_is_off; }

  public:
    // With tables, rows of the same table are taken to several copies.
    explicit World(unsigned seed, bool with_tables) : chance_(seed), with_tables_(with_tables) {
        copies_.resize(static_cast<std::size_t>(between(2, 5)));
        for (auto& copy : copies_) {
            copy.clock_is_off = std::chrono::milliseconds{between(-50'000, 50'000)};
        }
        act(copies_.front(), [](Catalogue& catalogue, Act& act) -> Result<void> {
            auto library = a_library();
            library.resize(2);
            catalogue.classes().put_library(act, library);
            if (auto done = catalogue.coils().add(act, a_coil("A1")); !done) return done;
            return catalogue.coils().add(act, a_coil("A2"));
        });
        for (std::size_t at = 1; at < copies_.size(); ++at) meet(copies_[at], copies_.front());
    }

    void live(int steps) {
        for (int step = 0; step < steps; ++step) {
            auto& copy = any_of(copies_);
            now_ += std::chrono::milliseconds{between(1, 4'000)};
            if (between(0, 9) < 2) {
                auto& other = any_of(copies_);
                if (&other != &copy) meet(copy, other);
            } else if (with_tables_ && between(0, 4) == 0) {
                bring_in_a_row(copy);
            } else {
                edit(copy);
            }
        }
    }

    void meet(Copy& copy, Copy& other) {
        const auto merged = merge(copy.catalogue, other.catalogue);
        REQUIRE_MESSAGE(merged.has_value(), (merged ? "" : merged.error().sentence));
        copy.known.insert(other.known.begin(), other.known.end());
    }

    // At last one of them meets all the others, and they it.
    void all_meet() {
        auto& hub = any_of(copies_);
        for (auto& copy : copies_) {
            if (&copy != &hub) meet(hub, copy);
        }
        for (auto& copy : copies_) {
            if (&copy != &hub) meet(copy, hub);
        }
    }

    [[nodiscard]] const std::vector<Copy>& copies() const { return copies_; }
    // What each act knew of.
    [[nodiscard]] const std::map<std::string, Known>& pasts() const { return pasts_; }

  private:
    template <class Write>
    void act(Copy& copy, Write write) {
        auto note = note_for("try");
        note.at = now_on(copy);
        note.laptop = "laptop " + std::to_string(&copy - copies_.data());
        (void)copy.catalogue.act(note, [&](Act& act) { return write(copy.catalogue, act); });
        if (!copy.catalogue.history().by_id(note.id)) return;  // refused, or nothing to do
        pasts_.emplace(note.id.text(), copy.known);
        copy.known.insert(note.id.text());
    }

    // The one row that the table has of a coil, as `coilbook import` brings it in.
    void bring_in_a_row(Copy& copy) {
        auto& c = copy.catalogue;
        const auto coils = c.coils().list({}, true);
        if (coils.empty()) return;
        const auto& coil = any_of(coils).coil;
        const auto [row, is_new] =
            table_.try_emplace(coil.id.text(), KindRow{next_id<Condition>().text(),
                                                       coil.id.text(),
                                                       {},
                                                       std::string("kink"),
                                                       std::int64_t{1},
                                                       to_text(moment()),
                                                       std::string("table"),
                                                       std::string()});
        act(copy, [&](Catalogue&, Act& act) -> Result<void> {
            auto conditions = c.table_of(**kind_named("conditions"));
            const auto found = conditions.find(row->second);
            if (!found) conditions.insert(act, row->second);
            if (found && found->is_undone) conditions.change(act, row->second);
            return {};
        });
    }

    void edit(Copy& copy) {
        auto& c = copy.catalogue;
        const auto at = now_on(copy);
        const auto coils = c.coils().list({}, true);
        const auto coil = coils.empty() ? a_coil("none") : any_of(coils).coil;
        const auto rigs = c.rigs().list();
        const auto boats = c.outings().boats();
        const auto clients = c.clients().list();
        const auto word = std::to_string(between(1, 4));
        act(copy, [&](Catalogue&, Act& act) -> Result<void> {
            switch (coils.empty() ? 0 : between(0, 21)) {
                case 0:
                    return c.coils().add(act, a_coil("N" + std::to_string(between(1, 30))));
                case 1:
                case 2: {
                    auto changed = coil;
                    changed.notes = "note " + word;
                    return c.coils().change(act, changed);
                }
                case 3: {
                    auto changed = coil;
                    changed.is_retired = !changed.is_retired;
                    return c.coils().change(act, changed);
                }
                case 4:
                case 5:
                    return read(c, act, coil.id, ReadingField::sample_weight, word + " g", at);
                case 6:
                    return read(c, act, coil.id, ReadingField::diameters, "0." + word + " mm", at);
                case 7:
                case 8:
                    return c.confirmations().add(
                        act, {.id = next_id<Confirmation>(),
                              .coil = coil.id,
                              .class_name =
                                  between(0, 3) == 0
                                      ? std::nullopt
                                      : std::optional<std::string>(between(0, 1) ? "T-8" : "T-11"),
                              .by = "test",
                              .at = at,
                              .note = ""});
                case 9:
                    return c.rigs().add(act, {.id = next_id<Rig>(),
                                              .code = "R" + word,
                                              .name = "rig",
                                              .line_size = {},
                                              .rod = "",
                                              .reel = "",
                                              .backing = "",
                                              .running_line = "",
                                              .notes = "",
                                              .made_at = at});
                case 10: {
                    if (rigs.empty()) return {};
                    auto rig = any_of(rigs);
                    rig.name = "rig " + word;
                    return c.rigs().change(act, rig);
                }
                case 11:
                    return c.outings().add_boat(act, {.id = next_id<Boat>(),
                                                      .name = "Boat " + word,
                                                      .seats = {},
                                                      .notes = "",
                                                      .made_at = at});
                case 12:
                    if (between(0, 2) == 0 && !clients.empty()) {
                        c.clients().forget(act, any_of(clients).id);
                        return {};
                    }
                    return c.clients().add(act, {.id = next_id<Client>(),
                                                 .code = "C" + word,
                                                 .made_at = at,
                                                 .person = Person{"Ida " + word, {}, "", ""}});
                case 13:
                    if (boats.empty()) return {};
                    if (between(0, 2) == 0) {
                        Boat boat = any_of(boats);
                        boat.is_retired = true;
                        return c.outings().change_boat(act, boat);
                    }
                    return go_out(c, act, any_of(boats).id, coil.id);
                case 14: {
                    const auto outings = c.outings().outings_on(day_);
                    if (outings.empty()) return {};
                    c.outings().cancel_outing(act, any_of(outings).id);
                    return {};
                }
                case 15:
                case 16: {
                    Place place;
                    if (between(0, 1) == 1 && !boats.empty()) {
                        place = {.where = Whereabouts::boat, .boat = any_of(boats).id};
                    } else if (between(0, 1) == 1 && !rigs.empty()) {
                        place = {.where = Whereabouts::rig,
                                 .rig = any_of(rigs).id,
                                 .role = RigRole::wallet};
                    }
                    return c.custody().add(act, {.id = next_id<Handover>(),
                                                 .thing = coil.id,
                                                 .to = place,
                                                 .at = at,
                                                 .by = "test",
                                                 .note = ""});
                }
                case 17:
                    if (between(0, 2) == 0) {
                        c.settings().clear(act, "pace");
                        return {};
                    }
                    return c.settings().put(act, "pace", word);
                case 18: {
                    Scale scale;
                    scale.code = between(0, 1) ? "" : "S1";
                    scale.offset = between(0, 9) * 1.0 * gram;
                    return c.instruments().put(act, next_id<BenchInstrument>(), scale);
                }
                case 19: {
                    auto library = c.classes().library();
                    if (library.empty()) return {};
                    any_of(library).weight = between(1, 9);
                    if (between(0, 3) == 0)
                        any_of(library).usual = UsualLengths{{1.0 * metre}, 0.1};
                    if (between(0, 3) == 0) any_of(library).usual.reset();
                    c.classes().put_library(act, library);
                    return {};
                }
                case 20: {
                    const auto entries = c.history().list({.limit = 12, .offset = 1});
                    if (entries.empty()) return {};
                    return c.undoing().undo(act, any_of(entries).note.id);
                }
                default: {
                    const auto next =
                        between(0, 2) == 0 ? c.undoing().next_redo() : c.undoing().next_undo();
                    if (!next) return {};
                    return next->state == ActState::done ? c.undoing().undo(act, next->note.id)
                                                         : c.undoing().redo(act, next->note.id);
                }
            }
        });
    }

    // Reads, corrects or withdraws.
    Result<void> read(Catalogue& c, Act& act, const Id<Coil>& coil, ReadingField field,
                      const std::string& words, Instant at) {
        Reading reading{.id = next_id<Reading>(),
                        .coil = coil,
                        .field = field,
                        .as_written = words,
                        .value = read_values(field, words).value().front(),
                        .instrument = "",
                        .taken_at = at,
                        .supersedes = {}};
        for (const auto& old : c.readings().current_of(coil)) {
            if (old.field != field || (field == ReadingField::diameters && between(0, 1))) continue;
            reading.supersedes = old.id;
            if (between(0, 3) == 0) {
                reading.value.reset();
                reading.as_written.clear();
            }
        }
        return c.readings().add(act, reading);
    }

    Result<void> go_out(Catalogue& c, Act& act, const Id<Boat>& boat, const Id<Coil>& coil) {
        const Outing outing{next_id<Outing>(), day_, boat, {}};
        c.outings().add_outing(act, outing);
        return c.outings().add_promise(act, {next_id<Promise>(), outing.id, coil});
    }

    std::mt19937 chance_;
    bool with_tables_;
    std::map<std::string, KindRow> table_;  // by coil
    std::vector<Copy> copies_;
    Instant now_ = moment();
    Day day_ = std::chrono::floor<std::chrono::days>(moment());
    std::map<std::string, Known> pasts_;
};

struct Told {
    std::vector<ActRecord> acts;
    std::vector<PicturePiece> pieces;

    bool operator==(const Told&) const = default;
};
Told told_by(const Catalogue& catalogue) {
    Told told;
    auto acts = acts_of(catalogue);
    while (*acts.next()) {
        told.acts.push_back(acts.record());
        while (auto piece = *acts.next_piece()) told.pieces.push_back(std::move(*piece));
    }
    return told;
}

// What the tables show, beside the history.
struct Shown {
    std::vector<Conflict> conflicts;
    std::vector<std::string> places;
    std::vector<std::string> confirmed;
    std::vector<std::string> weights;
    std::vector<std::string> conditions;
    std::vector<Rig> rigs;
    std::vector<Boat> boats;
    std::vector<Client> clients;
    std::map<std::string, std::string> settings;
    ReferenceLibrary library;
    double scale_offset;

    bool operator==(const Shown&) const = default;
};
Shown shown_by(const Catalogue& catalogue) {
    Shown shown{.conflicts = catalogue.conflicts().list(),
                .places = {},
                .confirmed = {},
                .weights = {},
                .conditions = {},
                .rigs = catalogue.rigs().list(),
                .boats = catalogue.outings().boats(true),
                .clients = catalogue.clients().list(),
                .settings = catalogue.settings().all(),
                .library = catalogue.classes().library(),
                .scale_offset = catalogue.instruments().all().scales.at("").offset.si()};
    for (const auto& standing : catalogue.custody().standings()) {
        shown.places.push_back(standing.last.id.text() + std::to_string(standing.handovers));
    }
    for (const auto& word : catalogue.confirmations().current()) {
        shown.confirmed.push_back(word.id.text());
    }
    for (const auto& listing : catalogue.coils().list({}, true)) {
        for (const auto& reading : catalogue.readings().current_of(listing.coil.id)) {
            shown.weights.push_back(reading.id.text());
        }
        for (const auto& condition : catalogue.care().all_conditions(listing.coil.id)) {
            shown.conditions.push_back(condition.id.text());
        }
    }
    return shown;
}

// Everything that an act was built on, directly or not, as the catalogue says.
std::map<std::string, Known> pasts_in(const std::vector<ActRecord>& records) {
    std::map<std::string, Known> pasts;
    for (const auto& record : records) {
        auto& past = pasts[record.note.id.text()];
        for (const auto& seen : record.seen) {
            const auto& further = pasts.at(seen.text());
            past.insert(further.begin(), further.end());
            past.insert(seen.text());
        }
    }
    return pasts;
}

// For every field that was changed to different values by people who did not know of each other:
// the acts that did so. And holds that the last one in the order is one that nobody overwrote.
std::set<std::set<std::string>> disputes(const std::vector<ActRecord>& records,
                                         const std::map<std::string, Known>& pasts) {
    using Register = std::tuple<std::string, std::string, std::string>;
    std::map<Register, std::vector<std::pair<std::string, db::Value>>> told;
    for (const auto& record : records) {
        for (const auto& change : record.changes) {
            const auto key = change.table == "reference_class" ? "name" : "id";
            if (change.field == key || change.field.ends_with("made_at_utc") ||
                change.field == "told_at_utc" || change.field == "forgotten_at_utc") {
                continue;
            }
            auto& said = told[{change.table, change.thing, change.field}];
            const auto& act = record.note.id.text();
            if (!said.empty() && said.back().first == act) said.pop_back();
            said.emplace_back(act, change.became);
        }
    }
    std::set<std::set<std::string>> found;
    for (const auto& [about, said] : told) {
        std::set<std::string> last;
        bool differ = false;
        std::optional<db::Value> first;
        for (const auto& [act, value] : said) {
            bool is_overwritten = false;
            for (const auto& [other, unused] : said) {
                is_overwritten = is_overwritten || pasts.at(other).contains(act);
            }
            if (is_overwritten) continue;
            last.insert(act);
            if (!first) first = value;
            differ = differ || *first != value;
        }
        CHECK_MESSAGE(last.contains(said.back().first),
                      "what stands was overwritten by somebody who knew of it: "
                          << std::get<0>(about) << ' ' << std::get<2>(about));
        if (differ) found.insert(last);
    }
    return found;
}

void check_history(unsigned seed, bool with_tables) {
    CAPTURE(seed);
    World world(seed, with_tables);
    world.live(60);
    world.all_meet();

    const auto& first = world.copies().front().catalogue;
    const auto told = told_by(first);
    Known held;
    for (const auto& record : told.acts) held.insert(record.note.id.text());
    Known done;
    for (const auto& [act, past] : world.pasts()) done.insert(act);
    CHECK(held == done);  // nothing lost
    CHECK(pasts_in(told.acts) == world.pasts());

    const auto shown = shown_by(first);
    for (const auto& copy : world.copies()) {
        CHECK(told_by(copy.catalogue) == told);
        const auto here = shown_by(copy.catalogue);
        CHECK_MESSAGE(here.conflicts == shown.conflicts, "the conflicts");
        CHECK_MESSAGE(here == shown, "what the tables show");
    }
    std::set<std::set<std::string>> listed;
    for (const auto& conflict : shown.conflicts) {
        if (conflict.kind != ConflictKind::field) continue;
        std::set<std::string> acts;
        for (const auto& choice : conflict.choices) acts.insert(choice.act);
        listed.insert(acts);
    }
    CHECK(listed == disputes(told.acts, world.pasts()));
}

}  // namespace

TEST_SUITE("Copies changed apart") {
    TEST_CASE(
        "whoever meets whom in whatever order, all hold the same in the end, and everything") {
        for (int seed = 1; seed <= histories(); ++seed) {
            check_history(static_cast<unsigned>(seed), seed % 2 == 0);
        }
        // One whose copies list conflicts in different orders where a coil that was made here, one
        // row of the history, is not read as one that came from elsewhere, field by field.
        check_history(15, false);
        // One in which two imports of a row are undone apart, and then the other one here.
        check_history(664, true);
    }
}
