#include "store/merging.h"

#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/conflicts.h"
#include "store/custody_repository.h"
#include "store/instrument_repository.h"
#include "store/reading_repository.h"
#include "store/rig_repository.h"
#include "store/setting_repository.h"
#include "store/settling.h"
#include "store/undoing.h"
#include "support/a_coil.h"
#include "support/catalogue.h"
#include "support/database.h"
#include "support/library.h"
#include "support/trees.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

// A shop's and a boat's copy of one catalogue with coil A7.
struct Apart {
    Catalogue shop = Catalogue::in_memory();
    Catalogue boat = Catalogue::in_memory();
    Coil coil = a_coil("A7", "as bought");

    Apart() {
        put_library(shop, small_library());
        in_an_act(shop, [&](Act& act) { return shop.coils().add(act, coil); });
        meet();
    }

    // Both have all of both then.
    void meet() {
        REQUIRE(merge(boat, shop).has_value());
        REQUIRE(merge(shop, boat).has_value());
    }
    Id<Act> notes(Catalogue& catalogue, const std::string& notes, int second) {
        auto changed = *catalogue.coils().by_id(coil.id);
        changed.notes = notes;
        auto note = note_for("note " + notes);
        note.at = moment(7200 + second);
        REQUIRE(
            catalogue.act(note, [&](Act& act) { return catalogue.coils().change(act, changed); })
                .has_value());
        return note.id;
    }
    void retire(Catalogue& catalogue) {
        auto changed = *catalogue.coils().by_id(coil.id);
        changed.is_retired = true;
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.coils().change(act, changed);
                }).has_value());
    }
    void read(Catalogue& catalogue, const std::string& words) {
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.readings().add(
                        act,
                        {.id = next_id<Reading>(),
                         .coil = coil.id,
                         .field = ReadingField::sample_weight,
                         .as_written = words,
                         .value = read_values(ReadingField::sample_weight, words).value().front(),
                         .instrument = "",
                         .taken_at = moment(5),
                         .supersedes = {}});
                }).has_value());
    }
    std::string notes_in(const Catalogue& catalogue) const {
        return catalogue.coils().by_id(coil.id)->notes;
    }
};

SettlingMeans means() {
    return {.new_id = [] { return next_id<Reading>().text(); },
            .new_code = [](const std::string&, const std::string& code) { return code + "-2"; }};
}

void settle(Catalogue& catalogue, std::size_t choice) {
    const auto conflicts = catalogue.conflicts().list();
    REQUIRE(conflicts.size() == 1);
    REQUIRE(in_an_act(catalogue, [&](Act& act) {
                return catalogue.settling().settle(act, conflicts.front(), choice, means());
            }).has_value());
}

bool is_sound(const Catalogue& catalogue) {
    bool sound = true;
    for (const auto& inspection : catalogue.audit()) {
        for (const auto& sentence : inspection.wrong) {
            if (!inspection.is_damage) continue;
            MESSAGE(inspection.what << ": " << sentence);
            sound = false;
        }
    }
    return sound;
}

fs::path copy_of(const char* name, const TemporaryFolder& folder) {
    fs::copy_file(source_tree() / "tests" / "data" / name, folder / name);
    fs::permissions(folder / name, fs::perms::owner_read | fs::perms::owner_write);
    return folder / name;
}

}  // namespace

TEST_SUITE("Two copies") {
    TEST_CASE("changes of different things both live, and the same act twice is one") {
        Apart two;
        two.notes(two.shop, "on the shelf", 1);
        two.read(two.boat, "22.4 gr");
        const auto first = merge(two.shop, two.boat);
        REQUIRE(first.has_value());
        CHECK(first->came.size() == 1);
        CHECK(first->known == 2);
        const auto again = merge(two.shop, two.boat);
        REQUIRE(again.has_value());
        CHECK(again->came.empty());
        CHECK(two.notes_in(two.shop) == "on the shelf");
        CHECK(two.shop.readings().current_of(two.coil.id).size() == 1);
        CHECK(two.shop.conflicts().list().empty());
        CHECK(is_sound(two.shop));
    }

    TEST_CASE("of two edits of one field the later stands, and both are shown until settled") {
        Apart two;
        const auto early = two.notes(two.shop, "from the shop", 1);
        const auto late = two.notes(two.boat, "from the boat", 2);
        two.meet();
        for (auto* copy : {&two.shop, &two.boat}) {
            CHECK(two.notes_in(*copy) == "from the boat");
            const auto conflicts = copy->conflicts().list();
            REQUIRE(conflicts.size() == 1);
            CHECK(conflicts[0].kind == ConflictKind::field);
            CHECK(conflicts[0].field == "notes");
            REQUIRE(conflicts[0].choices.size() == 2);
            CHECK(conflicts[0].choices[0].value == db::Value{"from the shop"});
            CHECK(conflicts[0].choices[0].act == early.text());
            CHECK(conflicts[0].choices[1].act == late.text());
            CHECK(conflicts[0].choices[1].stands);
        }
        SUBCASE("for the one that does not stand") {
            settle(two.shop, 0);
            two.meet();
            CHECK(two.notes_in(two.boat) == "from the shop");
        }
        SUBCASE("for the one that stands, which the history then says") {
            settle(two.shop, 1);
            two.meet();
            CHECK(two.notes_in(two.boat) == "from the boat");
        }
        CHECK(two.boat.conflicts().list().empty());
        CHECK(two.shop.conflicts().list().empty());
        CHECK(is_sound(two.boat));
    }

    TEST_CASE("who knew of the other overwrites it, though his clock is an hour slow") {
        Apart two;
        two.notes(two.shop, "first", 3600);
        two.meet();
        two.notes(two.boat, "second, by a slow clock", 1);
        two.meet();
        CHECK(two.notes_in(two.shop) == "second, by a slow clock");
        CHECK(two.shop.conflicts().list().empty());
    }

    TEST_CASE("a coil that was retired here and read there is to be settled") {
        Apart two;
        two.retire(two.shop);
        two.read(two.boat, "22.4 gr");
        two.meet();
        auto conflicts = two.boat.conflicts().list();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts[0].kind == ConflictKind::ended);
        settle(two.boat, 0);  // it is in use
        two.meet();
        CHECK_FALSE(two.shop.coils().by_id(two.coil.id)->is_retired);
        CHECK(two.shop.conflicts().list().empty());
    }

    TEST_CASE("a coil whose adding was undone here and that was noted there is to be settled") {
        Apart two;
        const auto added = two.shop.undoing().next_undo()->note.id;
        REQUIRE(in_an_act(two.shop, [&](Act& act) {
                    return two.shop.undoing().undo(act, added);
                }).has_value());
        two.notes(two.boat, "still here", 1);
        two.meet();
        const auto conflicts = two.shop.conflicts().list();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts[0].kind == ConflictKind::ended);
        CHECK_FALSE(two.shop.coils().by_id(two.coil.id).has_value());
        settle(two.shop, 0);
        CHECK(two.notes_in(two.shop) == "still here");
        CHECK(is_sound(two.shop));
    }

    TEST_CASE("two weighings of one coil: the later counts, settling withdraws the other") {
        Apart two;
        two.read(two.shop, "22.4 gr");
        two.read(two.boat, "22.9 gr");
        two.meet();
        REQUIRE(two.shop.readings().current_of(two.coil.id).size() == 1);
        const auto conflicts = two.shop.conflicts().list();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts[0].kind == ConflictKind::reading);
        const bool first_stands = conflicts[0].choices[0].stands;
        settle(two.shop, first_stands ? 1 : 0);
        const auto wanted = std::get<std::string>(conflicts[0].choices[first_stands ? 1 : 0].value);
        two.meet();
        CHECK(two.boat.readings().current_of(two.coil.id).front().as_written == wanted);
        CHECK(two.boat.conflicts().list().empty());
    }

    TEST_CASE("two words on what a coil is") {
        Apart two;
        in_an_act(two.shop, [&](Act& act) {
            return two.shop.confirmations().add(act, confirmed(two.coil, "T-11"));
        });
        in_an_act(two.boat, [&](Act& act) {
            return two.boat.confirmations().add(act, confirmed(two.coil, "size 8 type 6"));
        });
        two.meet();
        const auto conflicts = two.boat.conflicts().list();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts[0].kind == ConflictKind::confirmation);
        const auto wanted = std::get<std::string>(conflicts[0].choices[0].value);
        settle(two.boat, 0);
        two.meet();
        CHECK(two.shop.confirmations().current_of(two.coil.id)->class_name == wanted);
        CHECK(two.shop.conflicts().list().empty());
    }

    TEST_CASE("a coil that two handed over apart is in one place, and disputed until settled") {
        Apart two;
        for (auto* copy : {&two.shop, &two.boat}) {
            in_an_act(*copy, [&](Act& act) {
                return copy->custody().add(
                    act,
                    {.id = next_id<Handover>(),
                     .thing = two.coil.id,
                     .to = {.where = copy == &two.shop ? Whereabouts::damaged : Whereabouts::lost},
                     .at = moment(),
                     .by = "test",
                     .note = ""});
            });
        }
        two.meet();
        CHECK(two.shop.custody().standings().front().is_disputed());
        const auto conflicts = two.shop.conflicts().list();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts[0].kind == ConflictKind::place);
        CHECK(conflicts[0].choices.size() == 2);
        settle(two.shop, 0);
        two.meet();
        CHECK_FALSE(two.boat.custody().standings().front().is_disputed());
        CHECK(two.boat.conflicts().list().empty());
    }

    TEST_CASE("two tips on one rig are to be settled: one is on, the other in the wallet") {
        Apart two;
        const auto rig = next_id<Rig>();
        const auto other = a_coil("T2");
        in_an_act(two.shop, [&](Act& act) -> Result<void> {
            if (auto added = two.shop.coils().add(act, other); !added) return added;
            return two.shop.rigs().add(act,
                                       Rig{rig, "R1", "", {}, "", "", "", "", "", moment(), false});
        });
        two.meet();
        const auto put_on = [&](Catalogue& copy, const Id<Coil>& coil) {
            Place on{.where = Whereabouts::rig};
            on.rig = rig;
            on.role = RigRole::tip;
            const Handover handover{.id = next_id<Handover>(),
                                    .thing = coil,
                                    .to = on,
                                    .at = moment(),
                                    .by = "test",
                                    .note = ""};
            in_an_act(copy, [&](Act& act) { return copy.custody().add(act, handover); });
        };
        put_on(two.shop, two.coil.id);
        put_on(two.boat, other.id);
        two.meet();
        CHECK(is_sound(two.shop));
        const auto conflicts = two.shop.conflicts().list();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts[0].kind == ConflictKind::tip);
        CHECK(two.boat.conflicts().list() == conflicts);
        CHECK(conflicts[0].choices[1].value == db::Value{"T2"});
        CHECK(conflicts[0].choices[1].stands);
        settle(two.shop, 1);
        two.meet();
        for (const auto& each : two.boat.custody().standings()) {
            const auto* coil = std::get_if<Id<Coil>>(&each.last.thing);
            REQUIRE(coil != nullptr);
            CHECK(each.last.to.role == (*coil == other.id ? RigRole::tip : RigRole::wallet));
        }
        CHECK(two.boat.conflicts().list().empty());
    }

    TEST_CASE("two coils that were given one code both stay, and one gets another code") {
        Apart two;
        in_an_act(two.shop, [&](Act& act) { return two.shop.coils().add(act, a_coil("K7")); });
        in_an_act(two.boat, [&](Act& act) { return two.boat.coils().add(act, a_coil("K7")); });
        two.meet();
        CHECK(two.shop.coils().count() == 3);
        REQUIRE(two.shop.conflicts().list().size() == 1);
        CHECK(two.shop.conflicts().list()[0].kind == ConflictKind::code);
        settle(two.shop, 0);
        two.meet();
        CHECK(two.boat.coils().by_code("K7-2").has_value());
        CHECK(two.boat.conflicts().list().empty());
    }

    TEST_CASE("two checks of the default scale: both stay, the last counts") {
        Apart two;
        Scale scale;
        scale.offset = 1.0 * gram;
        in_an_act(two.shop, [&](Act& act) {
            return two.shop.instruments().put(act, next_id<BenchInstrument>(), scale);
        });
        scale.offset = 2.0 * gram;
        in_an_act(two.boat, [&](Act& act) {
            return two.boat.instruments().put(act, next_id<BenchInstrument>(), scale);
        });
        two.meet();
        CHECK(two.shop.instruments().all().scales.at("").offset ==
              two.boat.instruments().all().scales.at("").offset);
        REQUIRE(two.shop.conflicts().list().size() == 1);
        settle(two.shop, 0);
        CHECK(two.shop.instruments().all().scales.at("").offset == 1.0 * gram);
        CHECK(two.shop.instruments().all().scales.at("-2").offset == 2.0 * gram);
    }

    TEST_CASE("undoing leaves what somebody else did, whether it came before or after") {
        Apart two;
        const auto early = two.notes(two.shop, "from the shop", 1);
        const auto late = two.notes(two.boat, "from the boat", 2);
        two.meet();
        const auto refused =
            in_an_act(two.shop, [&](Act& act) { return two.shop.undoing().undo(act, early); });
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "from the boat");
        REQUIRE(in_an_act(two.shop, [&](Act& act) {
                    return two.shop.undoing().undo(act, late);
                }).has_value());
        CHECK(two.notes_in(two.shop) == "from the shop");  // not as bought
    }

    TEST_CASE("what was taken back elsewhere is not taken back again, and that is said") {
        Apart two;
        const auto act_id = two.notes(two.shop, "both know this", 1);
        two.meet();
        REQUIRE(in_an_act(two.boat, [&](Act& act) {
                    return two.boat.undoing().undo(act, act_id);
                }).has_value());
        two.notes(two.shop, "an edit of the shop", 9000);
        two.meet();
        REQUIRE(two.shop.conflicts().list().size() == 1);
        const auto refused =
            in_an_act(two.shop, [&](Act& act) { return two.shop.undoing().undo(act, act_id); });
        CHECK_FALSE(refused.has_value());
    }

    TEST_CASE("a settlement can be undone, and the matter is open again") {
        Apart two;
        two.notes(two.shop, "from the shop", 1);
        two.notes(two.boat, "from the boat", 2);
        two.meet();
        settle(two.shop, 1);
        const auto last = two.shop.undoing().next_undo()->note.id;
        REQUIRE(in_an_act(two.shop, [&](Act& act) {
                    return two.shop.undoing().undo(act, last);
                }).has_value());
        CHECK(two.shop.undoing().next_undo()->note.id != last);
        CHECK(two.shop.conflicts().list().size() == 1);
    }

    TEST_CASE("names come along, the newer wins, and who was forgotten does not come back") {
        Apart two;
        const Client ida{next_id<Client>(), "C1", moment(), Person{"Ida Brandvik", {}, "", ""}};
        const Client tom{next_id<Client>(), "C2", moment(), Person{"Tomas Rell", {}, "", ""}};
        in_an_act(two.shop, [&](Act& act) {
            (void)two.shop.clients().add(act, ida);
            return two.shop.clients().add(act, tom);
        });
        two.meet();
        REQUIRE(two.boat.clients().by_id(ida.id)->person.has_value());
        in_an_act(two.boat, [&](Act& act) { two.boat.clients().forget(act, ida.id); });
        const auto merged = merge(two.shop, two.boat);
        REQUIRE(merged.has_value());
        CHECK(merged->forgotten == 1);
        CHECK_FALSE(two.shop.clients().by_id(ida.id)->person.has_value());
        CHECK(two.shop.clients().by_id(tom.id)->person->name == "Tomas Rell");
        // A copy that still knows the name does not bring it back.
        Apart other;
        CHECK(merge(other.shop, two.shop, {.joins_strangers = true}).has_value());
        CHECK_FALSE(other.shop.clients().by_id(ida.id)->person.has_value());
        CHECK(merge(two.boat, two.shop).value().persons == 0);
    }

    TEST_CASE("catalogues that were made apart are joined only when that is wanted") {
        Apart one;
        Apart other;
        const auto refused = merge(one.shop, other.shop);
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "made apart");
        CHECK(one.shop.coils().count() == 1);
        CHECK(merge(one.shop, other.shop, {.joins_strangers = true}).has_value());
        CHECK(one.shop.coils().count() == 2);
        CHECK(is_sound(one.shop));
        CHECK(one.shop.conflicts().list().size() == 1);  // two coils A7
    }

    TEST_CASE("a dry run says what would come, and nothing comes") {
        Apart two;
        two.notes(two.boat, "from the boat", 1);
        const auto told = merge(two.shop, two.boat, {.is_dry_run = true});
        REQUIRE(told.has_value());
        CHECK(told->came.size() == 1);
        CHECK(two.notes_in(two.shop) == "as bought");
        CHECK(two.shop.history().list().size() == 2);
        CHECK(is_sound(two.shop));
    }

    TEST_CASE("a backup that fails stops the merge") {
        Apart two;
        two.notes(two.boat, "from the boat", 1);
        MergeOptions options;
        options.before_keeping = [] { throw Error("no room"); };
        CHECK_THROWS_AS((void)merge(two.shop, two.boat, options), Error);
        CHECK(two.notes_in(two.shop) == "as bought");
    }

    TEST_CASE("an act that somebody changed by hand in one copy is refused") {
        const TemporaryFolder folder;
        {
            auto catalogue = Catalogue::create(folder / "a.coilbook");
            put_library(catalogue, small_library());
            in_an_act(catalogue,
                      [&](Act& act) { return catalogue.coils().add(act, a_coil("A7")); });
        }
        fs::copy_file(folder / "a.coilbook", folder / "b.coilbook");
        auto mine = Catalogue::open(folder / "a.coilbook");
        auto theirs = Catalogue::open(folder / "b.coilbook");
        // A copied file is simply another copy: both may go on.
        in_an_act(mine, [&](Act& act) { return mine.coils().add(act, a_coil("B1")); });
        in_an_act(theirs, [&](Act& act) { return theirs.coils().add(act, a_coil("B2")); });
        CHECK(merge(mine, theirs).has_value());
        CHECK(mine.coils().count() == 3);

        struct Changed : ActSource {
            RecordedActs acts;
            std::string seal;
            Changed(RecordedActs given, std::string other) : acts(std::move(given)), seal(other) {}
            Result<std::optional<Head>> next() override {
                auto head = acts.next();
                if (head && *head) (*head)->seal = seal;
                return head;
            }
            ActRecord record() override { return acts.record(); }
            Result<std::optional<PicturePiece>> next_piece() override { return acts.next_piece(); }
            std::vector<PersonRecord> persons() override { return {}; }
        };
        Changed changed(acts_of(theirs), std::string(64, '0'));
        const auto refused = merge(mine, changed);
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "is not the same in both");
    }

    TEST_CASE("an act whose content does not fit its seal is refused, and nothing has happened") {
        Apart two;
        two.notes(two.boat, "from the boat", 1);
        struct Forged : ActSource {
            RecordedActs acts;
            explicit Forged(RecordedActs given) : acts(std::move(given)) {}
            Result<std::optional<Head>> next() override { return acts.next(); }
            ActRecord record() override {
                auto record = acts.record();
                record.changes.front().became = "never said";
                return record;
            }
            Result<std::optional<PicturePiece>> next_piece() override { return acts.next_piece(); }
            std::vector<PersonRecord> persons() override { return {}; }
        };
        Forged forged(acts_of(two.boat));
        const auto refused = merge(two.shop, forged);
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "would not be sound");
        CHECK(two.notes_in(two.shop) == "as bought");
        CHECK(is_sound(two.shop));
    }

    TEST_CASE("copies that went apart in an older format come together in this one") {
        const TemporaryFolder folder;
        auto shop = Catalogue::open(copy_of("version_4.coilbook", folder));
        auto boat = Catalogue::open(copy_of("version_4_apart.coilbook", folder));
        CHECK(shop.migrated().from == 4);
        REQUIRE(merge(shop, boat).has_value());
        REQUIRE(merge(boat, shop).has_value());
        CHECK(is_sound(shop));
        CHECK(is_sound(boat));
        CHECK(shop.coils().count() == 4);  // A7, B2 and one each
        const auto conflicts = shop.conflicts().list();
        REQUIRE(conflicts.size() == 1);  // rig R1: back in the bin, and lost
        CHECK(conflicts[0].kind == ConflictKind::place);
        CHECK(boat.conflicts().list() == conflicts);
        settle(shop, 1);
        CHECK(merge(boat, shop).has_value());
        CHECK(boat.conflicts().list().empty());
    }
}
