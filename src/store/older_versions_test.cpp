// Catalogues that earlier programs wrote (tests/data) are brought up to date with all they held.

#include "db/digest.h"
#include "store/backup_places.h"
#include "store/class_repository.h"
#include "store/client_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/conflicts.h"
#include "store/custody_repository.h"
#include "store/history_repository.h"
#include "store/reading_repository.h"
#include "store/schema.h"
#include "store/undoing.h"
#include "support/catalogue.h"
#include "support/database.h"
#include "support/trees.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

fs::path copy_of(const char* name, const TemporaryFolder& folder) {
    fs::copy_file(source_tree() / "tests" / "data" / name, folder / name);
    fs::permissions(folder / name, fs::perms::owner_read | fs::perms::owner_write);
    return folder / name;
}

std::string sha256_of(std::string_view text) {
    db::Digest digest;
    digest.add_raw(text);
    return digest.finish();
}

}  // namespace

TEST_SUITE("Catalogues of older formats") {
    TEST_CASE("one of format 1 keeps its coils, readings, words and history, and gets seals") {
        const TemporaryFolder folder;
        const auto file = copy_of("version_1.coilbook", folder);
        auto catalogue = Catalogue::open(file);
        CHECK(catalogue.migrated().from == 1);
        CHECK(catalogue.migrated().to == static_cast<int>(schema_steps().size()));
        REQUIRE(catalogue.migrated().backup == folder / "backups" / "version_1.v1.coilbook");
        CHECK(fs::status(*catalogue.migrated().backup).permissions() ==
              (fs::perms::owner_read | fs::perms::owner_write));

        const auto bin = catalogue.readings().bin();
        REQUIRE(bin.size() == 3);
        CHECK(bin[0].coil.code == "A7");
        CHECK(bin[0].coil.notes == "from the drift boat");
        CHECK(bin[0].confirmed_class == "T-11");
        CHECK(bin[0].readings.sample_weight->value == 22.1 * grain);
        CHECK(bin[0].readings.diameters.size() == 2);
        CHECK_FALSE(bin[1].confirmed_class.has_value());
        CHECK(bin[1].readings.tint == Tint::dark);
        CHECK(bin[2].coil.code == "Ü-3");
        CHECK(catalogue.readings().all_of(bin[0].coil.id).size() == 7);
        CHECK(catalogue.classes().library().size() == 102);
        CHECK(catalogue.history().list().size() == 15);
        for (const auto& inspection : catalogue.audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
        // What was done before there was an undo can be undone.
        const auto last = catalogue.undoing().next_undo()->note.id;
        CHECK(in_an_act(catalogue, [&](Act& act) {
                  return catalogue.undoing().undo(act, last);
              }).has_value());
        CHECK(catalogue.coils().count() == 2);
    }

    TEST_CASE("the copy of before is a catalogue of format 1") {
        const TemporaryFolder folder;
        const auto file = copy_of("version_1.coilbook", folder);
        { const auto migrated = Catalogue::open(file); }
        const auto copy =
            db::Database::open(folder / "backups" / "version_1.v1.coilbook", catalogue_kind());
        CHECK(copy.version() == 1);
        CHECK(db::number(copy, "SELECT count(*) AS n FROM act") == 15);
    }

    TEST_CASE("one of format 3 keeps what it had, and has room for rigs and boats") {
        const TemporaryFolder folder;
        const auto file = copy_of("version_3.coilbook", folder);
        auto catalogue = Catalogue::open(file);
        CHECK(catalogue.migrated().from == 3);
        const auto bin = catalogue.readings().bin();
        REQUIRE(bin.size() == 2);
        CHECK(bin[0].confirmed_class == "T-11");
        CHECK(bin[0].readings.diameters.size() == 3);
        CHECK(catalogue.history().list().size() == 10);
        CHECK(catalogue.custody().standings().empty());
        for (const auto& inspection : catalogue.audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
        // What was done before can be undone: the check of the scale, then the undo's own act
        // stays.
        const auto last = catalogue.undoing().next_undo()->note.id;
        CHECK(in_an_act(catalogue, [&](Act& act) {
                  return catalogue.undoing().undo(act, last);
              }).has_value());
    }

    TEST_CASE("one of format 4 keeps everything, seals and all, and can be merged from then on") {
        const TemporaryFolder folder;
        const auto file = copy_of("version_4.coilbook", folder);
        auto catalogue = Catalogue::open(file);
        CHECK(catalogue.migrated().from == 4);
        CHECK(catalogue.coils().count() == 3);
        CHECK(catalogue.readings().bin().front().confirmed_class == "T-11");
        CHECK(catalogue.classes().library().size() == 102);
        CHECK(catalogue.history().list().size() == 15);
        CHECK(catalogue.clients().list().front().person->name == "Ida Brandvik");
        CHECK(catalogue.custody().record().size() == 3);  // into the rig, out, back
        for (const auto& inspection : catalogue.audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
        CHECK(catalogue.conflicts().list().empty());
        // Every act has seen the one before it, and stands where it stood.
        const auto old = db::Database::open(file, catalogue_kind());
        CHECK(db::number(old, "SELECT count(*) AS n FROM seen") == 14);
        CHECK(db::number(old, "SELECT count(*) AS n FROM act WHERE seal_form = 1") == 15);
        const auto last = catalogue.undoing().next_undo()->note.id;
        CHECK(in_an_act(catalogue, [&](Act& act) {
                  return catalogue.undoing().undo(act, last);
              }).has_value());
    }

    TEST_CASE("one of format 6 keeps what a merge left open, and coils of both ways of telling") {
        const TemporaryFolder folder;
        auto catalogue = Catalogue::open(copy_of("version_6.coilbook", folder));
        CHECK(catalogue.migrated().from == 6);
        CHECK(catalogue.coils().count() == 4);
        CHECK(catalogue.readings().bin().front().confirmed_class == "T-11");
        const auto conflicts = catalogue.conflicts().list();
        REQUIRE(conflicts.size() == 1);
        CHECK(conflicts.front().field == "notes");
        const auto is_sound = [&] {
            for (const auto& inspection : catalogue.audit()) {
                CAPTURE(inspection.what);
                CHECK(inspection.wrong == std::vector<std::string>{});
            }
        };
        is_sound();
        // A coil of before was told field by field, one of now is told in one row.
        CHECK(in_an_act(catalogue, [&](Act& act) {
                  return catalogue.coils().add(act, a_coil("N1", "told in one row"));
              }).has_value());
        const auto old = catalogue.coils().by_code("A7")->id.text();
        const auto anew = catalogue.coils().by_code("N1")->id.text();
        const auto fields_of = [&](const std::string& thing) {
            std::vector<std::string> fields;
            const auto first = catalogue.history().of_thing(thing).back().note.id;
            for (const auto& change : catalogue.history().changes_of(first)) {
                if (change.thing == thing) fields.push_back(change.field);
            }
            return fields;
        };
        CHECK(fields_of(old) == std::vector<std::string>{"id", "code", "notes", "made_at_utc"});
        CHECK(fields_of(anew) == fields_of(old));
        is_sound();
    }

    // A step that has been released is never edited: a file made by the old one would be refused.
    TEST_CASE("the steps that files were made with are what they were") {
        const auto steps = schema_steps();
        CHECK(sha256_of(steps[0].sql) ==
              "1c11a80244a574ae6d0d817e44412001048f06f219b867075ee9f8c22f8e8953");
    }
}
