#include "store/salvage.h"

#include <array>
#include <functional>

#include "store/class_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"
#include "store/undoing.h"
#include "support/catalogue.h"
#include "support/database.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

constexpr int coils = 60;

// A catalogue of sixty coils with a long note and a weight each, in an act each.
fs::path full_catalogue(const TemporaryFolder& folder) {
    auto catalogue = Catalogue::create(folder / "a.coilbook");
    put_library(catalogue, small_library());
    for (int n = 0; n < coils; ++n) {
        const auto coil = a_coil("C" + std::to_string(100 + n), std::string(300, 'n'));
        in_an_act(catalogue, [&](Act& act) {
            (void)catalogue.coils().add(act, coil);
            (void)catalogue.readings().add(
                act, {.id = next_id<Reading>(),
                      .coil = coil.id,
                      .field = ReadingField::sample_weight,
                      .as_written = "22.4 gr",
                      .value = read_values(ReadingField::sample_weight, "22.4 gr").value().front(),
                      .instrument = "",
                      .taken_at = moment(5),
                      .supersedes = {}});
            (void)catalogue.confirmations().add(act, confirmed(coil, "T-11"));
        });
    }
    return catalogue.file();
}

bool is_sound(const Catalogue& catalogue) {
    bool sound = true;
    for (const auto& inspection : catalogue.audit()) {
        for (const auto& sentence : inspection.wrong) {
            MESSAGE(inspection.what << ": " << sentence);
            sound = false;
        }
    }
    return sound;
}

}  // namespace

TEST_SUITE("Salvaging a catalogue") {
    TEST_CASE("of a whole one everything comes over, and the history goes on") {
        const TemporaryFolder folder;
        const auto file = full_catalogue(folder);
        const auto salvaged = salvage(file, folder / "new.coilbook", note_for("salvage"));
        CHECK(salvaged.is_whole());
        auto old = Catalogue::open(file);
        auto made = Catalogue::open(folder / "new.coilbook");
        CHECK(made.readings().bin() == old.readings().bin());
        CHECK(made.classes().library() == old.classes().library());
        CHECK(made.history().list().size() == old.history().list().size() + 1);
        CHECK(made.history().list().front().note.what == "salvage");
        CHECK(is_sound(made));
        in_an_act(made, [&](Act& act) { (void)made.coils().add(act, a_coil("new")); });
        CHECK(is_sound(made));
    }

    TEST_CASE("with pages lost the rest comes over, sound in itself, and the loss is told") {
        const TemporaryFolder folder;
        const auto file = full_catalogue(folder);
        const auto whole = bytes_of(file);
        int salvages = 0;
        for (std::size_t page = 4096 * 3; page + 4096 <= whole.size(); page += 4096 * 7) {
            CAPTURE(page / 4096 + 1);
            auto bytes = whole;
            bytes.replace(page, 4096, 4096, '\xEE');
            write_bytes(folder / "bad.coilbook", bytes);
            fs::remove(folder / "new.coilbook");
            Salvaged salvaged;
            const auto said = error_of([&] {
                salvaged =
                    salvage(folder / "bad.coilbook", folder / "new.coilbook", note_for("salvage"));
            });
            CHECK(said == "");
            ++salvages;
            const auto made = Catalogue::open(folder / "new.coilbook");
            CHECK(is_sound(made));
            CHECK(bytes_of(folder / "bad.coilbook") == bytes);
        }
        CHECK(salvages > 5);
    }

    TEST_CASE("with the list of tables lost everything else comes over") {
        const TemporaryFolder folder;
        const auto file = full_catalogue(folder);
        const auto whole = bytes_of(file);
        const auto old = Catalogue::open(file);
        struct Case {
            const char* name;
            std::function<void(std::string&)> damage;
        };
        const std::array cases{
            Case{"its first page", [](std::string& bytes) { bytes.replace(100, 3996, 3996, 'x'); }},
            Case{"a letter of its text", [](std::string& bytes) {
                     bytes.replace(bytes.find("CREATE TABLE coil"), 6, "CREAXE");
                 }}};
        for (const auto& each : cases) {
            CAPTURE(each.name);
            auto bytes = whole;
            each.damage(bytes);
            write_bytes(folder / "bad.coilbook", bytes);
            fs::remove(folder / "new.coilbook");
            const auto salvaged =
                salvage(folder / "bad.coilbook", folder / "new.coilbook", note_for("salvage"));
            CHECK(salvaged.list_was_lost);
            CHECK_FALSE(salvaged.is_whole());
            CHECK(salvaged.broken.empty());
            CHECK(salvaged.settled.empty());
            auto made = Catalogue::open(folder / "new.coilbook");
            CHECK(is_sound(made));
            CHECK(made.readings().bin() == old.readings().bin());
            CHECK(made.classes().library() == old.classes().library());
            CHECK(fs::exists(folder / "new.coilbook.reading") == false);
        }
    }

    TEST_CASE("what was there before an act and is lost is not undone into, in plain words") {
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        auto coil = a_coil("A7");
        const auto back = note_for("bring A7 back");
        {
            auto catalogue = Catalogue::create(file);
            in_an_act(catalogue, [&](Act& act) { (void)catalogue.coils().add(act, coil); });
            coil.is_retired = true;
            in_an_act(catalogue, [&](Act& act) { (void)catalogue.coils().change(act, coil); });
            coil.is_retired = false;
            catalogue.act(back, [&](Act& act) { (void)catalogue.coils().change(act, coil); });
        }
        auto bytes = bytes_of(file);
        // The moment of retiring stands in the history only, once as new and once as old.
        const auto moment_text = to_text(moment(3600));
        for (std::size_t at = 0; (at = bytes.find(moment_text, at)) != std::string::npos; ++at) {
            const bool is_of_act = bytes.compare(at + moment_text.size(), 9, "the guide") == 0;
            if (!is_of_act) bytes[at + 4] = '/';
        }
        write_bytes(file, bytes);
        (void)salvage(file, folder / "new.coilbook", note_for("salvage"));
        auto made = Catalogue::open(folder / "new.coilbook");
        CHECK(is_sound(made));
        const auto refused =
            in_an_act(made, [&](Act& act) { return made.undoing().undo(act, back.id); });
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "was lost, and a salvage could not bring it back");
    }

    TEST_CASE("a salvage that fills gaps of the history is not undone either") {
        const TemporaryFolder folder;
        const auto file = full_catalogue(folder);
        auto bytes = bytes_of(file);
        // Where the history says that a class came to have its basis.
        for (std::size_t at = 0; (at = bytes.find("T-11basis", at)) != std::string::npos; ++at) {
            bytes[at] = '\xFF';
        }
        write_bytes(file, bytes);
        const auto note = note_for("salvage");
        const auto salvaged = salvage(file, folder / "new.coilbook", note);
        CHECK_FALSE(salvaged.settled.empty());
        auto made = Catalogue::open(folder / "new.coilbook");
        const auto refused =
            in_an_act(made, [&](Act& act) { return made.undoing().undo(act, note.id); });
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "tells of what was lost");
    }

    TEST_CASE("a salvage is not undone") {
        const TemporaryFolder folder;
        const auto file = full_catalogue(folder);
        auto bytes = bytes_of(file);
        for (std::size_t at = 0; (at = bytes.find("22.4 gr", at)) != std::string::npos; ++at) {
            bytes[at] = '\xFF';  // no longer text
        }
        write_bytes(file, bytes);
        const auto note = note_for("salvage");
        const auto salvaged = salvage(file, folder / "new.coilbook", note);
        CHECK_FALSE(salvaged.is_whole());
        CHECK(salvaged.broken.size() == coils);
        auto made = Catalogue::open(folder / "new.coilbook");
        CHECK(is_sound(made));
        CHECK(made.coils().count() == coils);
        const auto refused =
            in_an_act(made, [&](Act& act) { return made.undoing().undo(act, note.id); });
        says(refused.error().sentence, "tells of what was lost");
    }
}
