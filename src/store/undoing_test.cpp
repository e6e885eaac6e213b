#include "store/undoing.h"

#include <algorithm>
#include <cstdlib>
#include <random>

#include "store/class_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/instrument_repository.h"
#include "store/reading_repository.h"
#include "store/seals.h"
#include "store/setting_repository.h"
#include "support/catalogue.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

Reading a_reading(const Coil& coil, ReadingField field, const std::string& text,
                  std::optional<Id<Reading>> supersedes = {}) {
    return {.id = next_id<Reading>(),
            .coil = coil.id,
            .field = field,
            .as_written = text,
            .value = read_values(field, text).value().front(),
            .instrument = "",
            .taken_at = moment(5),
            .supersedes = supersedes};
}

// Runs `write` as an act of that name; its id.
template <class Write>
Id<Act> done(Catalogue& catalogue, const std::string& what, Write write) {
    const auto note = note_for(what);
    REQUIRE(catalogue.act(note, write).has_value());
    return note.id;
}

Id<Act> add(Catalogue& catalogue, const Coil& coil) {
    return done(catalogue, "add " + coil.code,
                [&](Act& act) { return catalogue.coils().add(act, coil); });
}
Id<Act> change(Catalogue& catalogue, const Coil& coil) {
    return done(catalogue, "change " + coil.code,
                [&](Act& act) { return catalogue.coils().change(act, coil); });
}
Id<Act> read(Catalogue& catalogue, const Reading& reading) {
    return done(catalogue, "read " + reading.as_written,
                [&](Act& act) { return catalogue.readings().add(act, reading); });
}
Id<Act> confirm(Catalogue& catalogue, const Coil& coil, const std::string& name) {
    return done(catalogue, "confirm as " + name, [&](Act& act) {
        return catalogue.confirmations().add(act, confirmed(coil, name));
    });
}

Result<void> undo(Catalogue& catalogue, const Id<Act>& id) {
    return catalogue.act(note_for("undo"),
                         [&](Act& act) { return catalogue.undoing().undo(act, id); });
}
Result<void> redo(Catalogue& catalogue, const Id<Act>& id) {
    return catalogue.act(note_for("redo"),
                         [&](Act& act) { return catalogue.undoing().redo(act, id); });
}

std::string weight_of(Catalogue& catalogue, const Coil& coil) {
    for (const auto& each : catalogue.readings().current_of(coil.id)) {
        if (each.field == ReadingField::sample_weight) return each.as_written;
    }
    return "";
}

}  // namespace

TEST_SUITE("Undo") {
    TEST_CASE("a coil that was added is gone, its code free, and comes back with redo") {
        auto catalogue = Catalogue::in_memory();
        const auto coil = a_coil("A7", "old bag");
        const auto act = add(catalogue, coil);
        CHECK(catalogue.undoing().next_undo()->note.id == act);
        CHECK_FALSE(catalogue.undoing().next_redo().has_value());
        REQUIRE(undo(catalogue, act).has_value());
        CHECK(catalogue.coils().count(true) == 0);
        CHECK_FALSE(catalogue.coils().by_id(coil.id).has_value());
        CHECK_FALSE(catalogue.undoing().next_undo().has_value());
        CHECK(catalogue.undoing().next_redo()->note.id == act);
        REQUIRE(redo(catalogue, act).has_value());
        CHECK(catalogue.coils().by_code("A7") == coil);
    }

    TEST_CASE("a correction that is undone gives the reading of before, a withdrawal too") {
        auto catalogue = Catalogue::in_memory();
        const auto coil = a_coil("A7");
        add(catalogue, coil);
        const auto first = a_reading(coil, ReadingField::sample_weight, "22.4 gr");
        read(catalogue, first);
        const auto second = a_reading(coil, ReadingField::sample_weight, "22.1 gr", first.id);
        const auto corrected = read(catalogue, second);
        auto withdrawal = a_reading(coil, ReadingField::sample_weight, "22.1 gr", second.id);
        withdrawal.value.reset();
        const auto withdrawn = read(catalogue, withdrawal);
        CHECK(weight_of(catalogue, coil) == "");
        REQUIRE(undo(catalogue, withdrawn).has_value());
        CHECK(weight_of(catalogue, coil) == "22.1 gr");
        REQUIRE(undo(catalogue, corrected).has_value());
        CHECK(weight_of(catalogue, coil) == "22.4 gr");
        CHECK(catalogue.readings().all_of(coil.id) == std::vector{first});
        // And forward again, the last undone first.
        REQUIRE(redo(catalogue, corrected).has_value());
        REQUIRE(redo(catalogue, withdrawn).has_value());
        CHECK(weight_of(catalogue, coil) == "");
    }

    TEST_CASE("the word on a coil, an instrument, a setting and the library go back") {
        auto catalogue = Catalogue::in_memory();
        put_library(catalogue, small_library());
        const auto coil = a_coil("A7");
        add(catalogue, coil);
        Scale scale;
        scale.code = "S1";
        const auto put = [&] {
            return done(catalogue, "scale", [&](Act& act) {
                return catalogue.instruments().put(act, next_id<BenchInstrument>(), scale);
            });
        };
        const auto default_scales = catalogue.instruments().all().scales.size();
        const auto scale_put = put();
        scale.resolution = 0.5 * grain;
        const auto scale_changed = put();
        const auto set = done(catalogue, "set", [&](Act& act) {
            return catalogue.settings().put(act, "water", "8 C");
        });
        confirm(catalogue, coil, "T-11");
        const auto other_word = confirm(catalogue, coil, "size 8 type 6");
        auto library = small_library();
        library.erase(library.begin() + 1);
        library[0].weight = 3.0;
        const auto note = note_for("library");
        catalogue.act(note, [&](Act& act) { catalogue.classes().put_library(act, library); });

        REQUIRE(undo(catalogue, note.id).has_value());
        CHECK(catalogue.classes().library().size() == small_library().size());
        CHECK(catalogue.classes().library()[0].weight == 1.0);
        CHECK(catalogue.classes().library()[1].usual == small_library()[1].usual);
        REQUIRE(undo(catalogue, other_word).has_value());
        CHECK(catalogue.confirmations().current_of(coil.id)->class_name == "T-11");
        REQUIRE(undo(catalogue, set).has_value());
        CHECK(catalogue.settings().all().empty());
        REQUIRE(undo(catalogue, scale_changed).has_value());
        CHECK(catalogue.instruments().all().scales.at("S1").resolution == Scale{}.resolution);
        REQUIRE(undo(catalogue, scale_put).has_value());
        CHECK(catalogue.instruments().all().scales.size() == default_scales);
        CHECK(put() != scale_put);  // and can be put in anew
        CHECK(catalogue.instruments().all().scales.at("S1").resolution == 0.5 * grain);
    }

    TEST_CASE("an undo is an entry of its own, and the history only grows") {
        auto catalogue = Catalogue::in_memory();
        const auto act = add(catalogue, a_coil("A7"));
        REQUIRE(undo(catalogue, act).has_value());
        REQUIRE(redo(catalogue, act).has_value());
        const auto entries = catalogue.history().list();
        REQUIRE(entries.size() == 3);
        CHECK(entries[2].state == ActState::done);
        CHECK(entries[1].state == ActState::undo);
        CHECK(entries[1].undoes == act);
        CHECK(entries[0].state == ActState::redo);
        CHECK(entries[0].undoes == entries[1].note.id);
        REQUIRE(undo(catalogue, act).has_value());
        CHECK(catalogue.history().list().back().state == ActState::undone);
        CHECK(catalogue.history().of_code("A7").size() == 4);
    }

    TEST_CASE("an earlier act is undone by its id where nothing later builds on it") {
        auto catalogue = Catalogue::in_memory();
        const auto first = add(catalogue, a_coil("A7"));
        add(catalogue, a_coil("A8"));
        REQUIRE(undo(catalogue, first).has_value());
        CHECK(catalogue.coils().list().size() == 1);
    }
}

TEST_SUITE("What cannot be undone") {
    TEST_CASE("an act on which a later one builds is refused, and the later one is named") {
        auto catalogue = Catalogue::in_memory();
        put_library(catalogue, small_library());
        auto coil = a_coil("A7");
        const auto added = add(catalogue, coil);
        const auto reading = a_reading(coil, ReadingField::sample_weight, "22.4 gr");
        const auto weighed = read(catalogue, reading);
        says(undo(catalogue, added).error().sentence, "'add A7' cannot be undone: 'read 22.4 gr'");
        says(undo(catalogue, added).error().suggestion, weighed.text());
        read(catalogue, a_reading(coil, ReadingField::sample_weight, "22.1 gr", reading.id));
        says(undo(catalogue, weighed).error().sentence, "'read 22.1 gr' came later");
        const auto named = confirm(catalogue, coil, "T-11");
        const auto renamed_word = confirm(catalogue, coil, "size 8 type 6");
        says(undo(catalogue, named).error().sentence, "'confirm as size 8 type 6'");
        coil.notes = "one";
        const auto noted = change(catalogue, coil);
        coil.notes = "two";
        change(catalogue, coil);
        says(undo(catalogue, noted).error().sentence, "'change A7' came later");
        CHECK(catalogue.undoing().obstacle(noted).has_value());
        CHECK_FALSE(catalogue.undoing().obstacle(renamed_word).has_value());
    }

    TEST_CASE("a coil does not come back under a code that another has by now") {
        auto catalogue = Catalogue::in_memory();
        auto coil = a_coil("A7");
        add(catalogue, coil);
        coil.is_retired = true;
        const auto retired = change(catalogue, coil);
        add(catalogue, a_coil("A7", "the new one"));
        const auto refused = undo(catalogue, retired);
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "'add A7' came later");
        CHECK(catalogue.coils().by_code("A7")->notes == "the new one");
    }

    TEST_CASE("what is undone already, an undo itself, and an act that is not there") {
        auto catalogue = Catalogue::in_memory();
        const auto act = add(catalogue, a_coil("A7"));
        REQUIRE(undo(catalogue, act).has_value());
        says(undo(catalogue, act).error().sentence, "has been undone already");
        const auto by = catalogue.history().list().front().note.id;
        says(undo(catalogue, by).error().sentence, "only took another act back");
        says(undo(catalogue, next_id<Act>()).error().sentence, "the history has no act");
        CHECK(catalogue.history().list().size() == 2);
    }

    TEST_CASE("nothing is done again once something new was done") {
        auto catalogue = Catalogue::in_memory();
        const auto act = add(catalogue, a_coil("A7"));
        REQUIRE(undo(catalogue, act).has_value());
        add(catalogue, a_coil("A8"));
        CHECK_FALSE(catalogue.undoing().next_redo().has_value());
        says(redo(catalogue, act).error().sentence, "something new was done since");
    }
}

namespace {

// What a catalogue holds, as named registers with their values.
using Registers = std::map<std::string, std::string>;

Registers held_in(Catalogue& catalogue) {
    Registers found;
    for (const auto& [coil, word, count] : catalogue.coils().list({}, true)) {
        const auto id = coil.id.text();
        found["coil/" + id + "/code"] = coil.code;
        found["coil/" + id + "/notes"] = coil.notes;
        found["coil/" + id + "/retired"] = coil.is_retired ? "yes" : "no";
        for (const auto& reading : catalogue.readings().current_of(coil.id)) {
            found["reading/" + id + "/" + reading.id.text()] = std::string(name_of(reading.field)) +
                                                               " " + reading.as_written + " " +
                                                               reading.instrument;
        }
        if (const auto said = catalogue.confirmations().current_of(coil.id)) {
            found["word/" + id] = *said->class_name + " " + said->id.text();
        }
    }
    for (const auto& [code, scale] : catalogue.instruments().all().scales) {
        if (code.empty()) continue;
        found["scale/" + code] = std::to_string(scale.resolution.si() * 1e9);
    }
    for (const auto& [name, value] : catalogue.settings().all()) found["setting/" + name] = value;
    for (const auto& each : catalogue.classes().library()) {
        found["class/" + each.name + "/weight"] = std::to_string(each.weight);
    }
    return found;
}

// A plain model: what each act changed, and whether it stands.
struct ModelAct {
    Id<Act> id;
    std::map<std::string, std::pair<std::string, std::string>> changes;  // "": not there
    std::vector<std::string> needs;  // registers that must be there, whatever they hold
    bool stands = true;
};

// Whether each coil has at most one weight.
bool has_single_weights(const Registers& registers) {
    std::map<std::string, int> weights;
    for (const auto& [name, value] : registers) {
        if (!name.starts_with("reading/") || !value.starts_with("sample_weight")) continue;
        if (++weights[name.substr(8, 26)] > 1) return false;
    }
    return true;
}

// What the standing acts make of nothing; nothing where they do not fit together. A weight is
// taken where there is none, so at no time are there two; codes are free for all in between.
std::optional<Registers> made_by(const std::vector<ModelAct>& acts) {
    Registers made;
    for (const auto& act : acts) {
        if (!act.stands) continue;
        for (const auto& need : act.needs) {
            if (!made.contains(need) && !act.changes.contains(need)) return std::nullopt;
        }
        for (const auto& [name, change] : act.changes) {
            const auto found = made.find(name);
            if ((found == made.end() ? "" : found->second) != change.first) return std::nullopt;
            if (change.second.empty()) {
                made.erase(name);
            } else {
                made[name] = change.second;
            }
        }
        if (!has_single_weights(made)) return std::nullopt;
    }
    std::map<std::string, int> places;
    for (const auto& [name, value] : made) {
        const auto coil = name.substr(name.find('/') + 1, 26);
        if (name.ends_with("/code") && made.at("coil/" + coil + "/retired") == "no" &&
            ++places["code " + value] > 1) {
            return std::nullopt;  // two coils of one code
        }
    }
    return made;
}

// One random life of a catalogue beside its model.
class Life {
  public:
    explicit Life(unsigned seed) : random_(seed) {
        put_library(catalogue_, small_library());
        // The library of the beginning belongs to the model's nothing.
        start_ = catalogue_.history().list().front().note.id;
        remember(start_, {}, {});
    }

    void live(int steps) {
        for (int n = 0; n < steps; ++n) {
            switch (pick(9)) {
                case 0:
                case 1:
                case 2:
                    undo_last();
                    break;
                case 3:
                    redo_last();
                    break;
                case 4:
                    undo_any();
                    break;
                default:
                    do_something();
            }
            const auto expected = made_by(acts_);
            REQUIRE(expected.has_value());
            REQUIRE(held_in(catalogue_) == *expected);
        }
        CHECK(catalogue_.seals().broken().empty());
        CHECK(catalogue_.damage().empty());
    }

    int refused = 0;
    int undone = 0;

  private:
    std::size_t pick(std::size_t choices) { return random_() % choices; }

    void remember(const Id<Act>& id, const Registers& before, std::vector<std::string> needs) {
        const auto after = held_in(catalogue_);
        ModelAct act{id, {}, std::move(needs), true};
        for (const auto& [name, value] : after) {
            const auto old = before.find(name);
            const std::string was = old == before.end() ? "" : old->second;
            if (was != value) act.changes[name] = {was, value};
        }
        for (const auto& [name, value] : before) {
            if (!after.contains(name)) act.changes[name] = {value, ""};
        }
        acts_.push_back(std::move(act));
        redoable_.clear();
    }

    void undo_last() {
        const auto last = std::ranges::find_if(acts_.rbegin(), acts_.rend(),
                                               [](const ModelAct& act) { return act.stands; });
        const auto next = catalogue_.undoing().next_undo();
        REQUIRE(next.has_value() == (last != acts_.rend()));
        if (!next || next->note.id == start_) return;
        REQUIRE(next->note.id == last->id);
        // Refused only where a coil's code was given away meanwhile and that act undone before.
        last->stands = false;
        const auto done_so = undo(catalogue_, last->id);
        REQUIRE(done_so.has_value() == made_by(acts_).has_value());
        last->stands = !done_so.has_value();
        if (!done_so) return;
        redoable_.push_back(last->id);
        ++undone;
    }

    void undo_any() {
        auto& act = acts_[pick(acts_.size())];
        if (act.id == start_ || !act.stands) return;
        act.stands = false;
        const bool fits = made_by(acts_).has_value();
        const auto done_so = undo(catalogue_, act.id);
        const std::string said = done_so ? "" : to_line(done_so.error());
        CAPTURE(said);
        REQUIRE(done_so.has_value() == fits);
        act.stands = !fits;
        if (fits) redoable_.push_back(act.id);
        ++(fits ? undone : refused);
    }

    void redo_last() {
        const auto next = catalogue_.undoing().next_redo();
        REQUIRE(next.has_value() == !redoable_.empty());
        if (!next) return;
        REQUIRE(next->note.id == redoable_.back());
        REQUIRE(redo(catalogue_, next->note.id).has_value());
        std::ranges::find(acts_, next->note.id, &ModelAct::id)->stands = true;
        redoable_.pop_back();
    }

    // One act of a random kind, perhaps refused, perhaps changing nothing.
    void do_something() {
        const auto before = held_in(catalogue_);
        const auto entries = catalogue_.history().list().size();
        const auto coils = catalogue_.coils().list({}, true);
        auto note = note_for("something");
        std::vector<std::string> needs;
        const auto some_code = [&] { return "C" + std::to_string(pick(5)); };
        (void)catalogue_.act(note, [&](Act& act) -> Result<void> {
            const auto kind = pick(8);
            if (kind == 0 || coils.empty()) {
                return catalogue_.coils().add(act, a_coil(some_code(), "new"));
            }
            auto coil = coils[pick(coils.size())].coil;
            needs = {"coil/" + coil.id.text() + "/code"};
            switch (kind) {
                case 1:
                    coil.code = some_code();
                    coil.notes = "note " + std::to_string(pick(3));
                    coil.is_retired = pick(3) == 0;
                    return catalogue_.coils().change(act, coil);
                case 2:
                    return record(act, coil, ReadingField::sample_weight, needs);
                case 3:
                    return record(act, coil, ReadingField::diameters, needs);
                case 4:
                    return withdraw(act, coil);
                case 5:
                    return say(act, coil, needs);
                case 6:
                    needs = {};
                    return equip(act);
                default:
                    needs = {};
                    return furnish(act);
            }
        });
        if (catalogue_.history().list().size() > entries) remember(note.id, before, needs);
    }

    Result<void> record(Act& act, const Coil& coil, ReadingField field,
                        std::vector<std::string>& needs) {
        const bool is_weight = field == ReadingField::sample_weight;
        auto reading =
            a_reading(coil, field, std::to_string(1 + pick(20)) + (is_weight ? " gr" : " thou"));
        for (const auto& each : catalogue_.readings().current_of(coil.id)) {
            if (is_weight && each.field == field) reading.supersedes = each.id;
        }
        const auto scales = catalogue_.instruments().all().scales;
        if (is_weight && scales.contains("S1") && pick(2) == 0) {
            reading.instrument = "S1";
            needs.emplace_back("scale/S1");
        }
        return catalogue_.readings().add(act, reading);
    }

    Result<void> withdraw(Act& act, const Coil& coil) {
        const auto current = catalogue_.readings().current_of(coil.id);
        if (current.empty()) return {};
        auto withdrawal = current[pick(current.size())];
        withdrawal.supersedes = withdrawal.id;
        withdrawal.id = next_id<Reading>();
        withdrawal.value.reset();
        return catalogue_.readings().add(act, withdrawal);
    }

    Result<void> say(Act& act, const Coil& coil, std::vector<std::string>& needs) {
        if (pick(4) == 0) {
            auto word = confirmed(coil, "T-11");
            word.class_name.reset();
            return catalogue_.confirmations().add(act, word);
        }
        const auto library = catalogue_.classes().library();
        if (library.empty()) return {};
        const auto name = library[pick(library.size())].name;
        (void)needs;
        return catalogue_.confirmations().add(act, confirmed(coil, name));
    }

    Result<void> equip(Act& act) {
        if (pick(2) == 0) {
            Scale scale;
            scale.code = pick(2) == 0 ? "S1" : "S2";
            scale.resolution = static_cast<double>(1 + pick(3)) * 0.1 * grain;
            return catalogue_.instruments().put(act, next_id<BenchInstrument>(), scale);
        }
        if (pick(3) == 0) {
            catalogue_.settings().clear(act, "water");
            return {};
        }
        return catalogue_.settings().put(act, "water", std::to_string(5 + pick(3)) + " C");
    }

    Result<void> furnish(Act& act) {
        auto library = small_library();
        // The one that comes and goes keeps its weight: out of the library it cannot be seen.
        library[2 * pick(2)].weight = 1.0 + static_cast<double>(pick(3));
        if (pick(2) == 0) library.erase(library.begin() + 1);
        catalogue_.classes().put_library(act, library);
        return {};
    }

    std::mt19937 random_;
    Catalogue catalogue_ = Catalogue::in_memory();
    Id<Act> start_ = next_id<Act>();
    std::vector<ModelAct> acts_;
    std::vector<Id<Act>> redoable_;
};

}  // namespace

TEST_SUITE("Lives of a catalogue") {
    // COILBOOK_LIVES=1000 for a long run.
    TEST_CASE("whatever is done, undone and done again, the standing acts say what is there") {
        const char* wanted = std::getenv("COILBOOK_LIVES");
        const unsigned lives = wanted ? static_cast<unsigned>(std::atoi(wanted)) : 25;
        int refused = 0;
        int undone = 0;
        for (unsigned seed = 1; seed <= lives; ++seed) {
            CAPTURE(seed);
            Life life(seed);
            life.live(60);
            refused += life.refused;
            undone += life.undone;
        }
        CHECK(undone > refused);
        CHECK(refused > 0);
    }
}
