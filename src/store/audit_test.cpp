#include "store/audit.h"

#include <cstdlib>
#include <random>

#include "db/salvage.h"
#include "store/class_repository.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/instrument_repository.h"
#include "store/reading_repository.h"
#include "store/setting_repository.h"
#include "store/undoing.h"
#include "support/catalogue.h"
#include "support/database.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

// What a catalogue answers to every question.
struct Answers {
    std::vector<BinEntry> bin;
    std::vector<std::vector<Reading>> readings;
    std::vector<std::vector<Confirmation>> words;
    std::vector<std::optional<VerdictSnapshot>> verdicts;
    ReferenceLibrary library;
    Instruments instruments;
    std::map<std::string, std::string> settings;
    std::vector<HistoryEntry> history;
    std::vector<std::vector<FieldChange>> changes;

    bool operator==(const Answers&) const = default;
};

Answers answers_of(Catalogue& catalogue) {
    Answers answers{.bin = catalogue.readings().bin(),
                    .readings = {},
                    .words = {},
                    .verdicts = {},
                    .library = catalogue.classes().library(),
                    .instruments = catalogue.instruments().all(),
                    .settings = catalogue.settings().all(),
                    .history = catalogue.history().list(),
                    .changes = {}};
    for (const auto& listing : catalogue.coils().list({}, true)) {
        answers.readings.push_back(catalogue.readings().all_of(listing.coil.id));
        answers.words.push_back(catalogue.confirmations().all_of(listing.coil.id));
        for (const auto& word : answers.words.back()) {
            answers.verdicts.push_back(catalogue.confirmations().verdict_of(word.id));
        }
    }
    for (const auto& entry : answers.history) {
        answers.changes.push_back(catalogue.history().changes_of(entry.note.id));
    }
    return answers;
}

// A small catalogue with something of everything in it, undone things too.
fs::path rich_catalogue(const TemporaryFolder& folder) {
    auto catalogue = Catalogue::create(folder / "a.coilbook");
    put_library(catalogue, small_library());
    Scale scale;
    scale.code = "S1";
    in_an_act(catalogue, [&](Act& act) {
        (void)catalogue.instruments().put(act, next_id<BenchInstrument>(), scale);
        (void)catalogue.settings().put(act, "water", "8 C");
    });
    for (int n = 0; n < 12; ++n) {
        auto coil = a_coil("C" + std::to_string(n), "note " + std::to_string(n));
        in_an_act(catalogue, [&](Act& act) { (void)catalogue.coils().add(act, coil); });
        in_an_act(catalogue, [&](Act& act) {
            for (const auto& [field, text] :
                 {std::pair{ReadingField::sample_weight, "22.4 gr"},
                  std::pair{ReadingField::sample_length, "24 in +- 0.1 in"},
                  std::pair{ReadingField::diameters, "0,83 mm"},
                  std::pair{ReadingField::tint, "dark"}}) {
                const char mark = field == ReadingField::diameters ? ',' : '.';
                (void)catalogue.readings().add(
                    act, {.id = next_id<Reading>(),
                          .coil = coil.id,
                          .field = field,
                          .as_written = text,
                          .value = read_values(field, text, {mark, {}}).value().front(),
                          .instrument = field == ReadingField::sample_weight ? "S1" : "",
                          .taken_at = moment(5),
                          .supersedes = {}});
            }
        });
        in_an_act(catalogue, [&](Act& act) {
            (void)catalogue.confirmations().add(act, confirmed(coil, "T-11"));
        });
        if (n % 3 == 0) {
            const auto last = catalogue.undoing().next_undo()->note.id;
            in_an_act(catalogue, [&](Act& act) { (void)catalogue.undoing().undo(act, last); });
        }
    }
    return catalogue.file();
}

std::vector<std::string> faults(const Catalogue& catalogue) {
    std::vector<std::string> found;
    for (const auto& inspection : catalogue.audit()) {
        for (const auto& sentence : inspection.wrong) {
            found.push_back(inspection.what + ": " + sentence);
        }
    }
    return found;
}

std::string faults_after(const std::string& sql) {
    const TemporaryFolder folder;
    const auto file = rich_catalogue(folder);
    {
        auto database = db::Database::open(file, catalogue_kind());
        db::Statement list(database, "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'");
        std::string drop;
        std::string make;
        for (auto rows = list.rows(); rows.next();) {
            drop += "DROP TRIGGER " + rows.row().text("name") + ";";
            make += rows.row().text("sql") + ";";
        }
        db::run_script(database, drop + sql + ";" + make);
    }
    std::string all;
    for (const auto& fault : faults(Catalogue::open(file))) all += fault + "\n";
    return all;
}

}  // namespace

TEST_SUITE("Audit") {
    TEST_CASE("of a sound catalogue there is nothing to say") {
        const TemporaryFolder folder;
        const auto catalogue = Catalogue::open(rich_catalogue(folder));
        CHECK(faults(catalogue) == std::vector<std::string>{});
        CHECK(catalogue.audit().size() == 7);
    }

    TEST_CASE("a value changed behind the history's back is found, and where it is") {
        says(faults_after("UPDATE coil SET notes = 'other' WHERE code = 'C1'"),
             "the rows beside the history: notes of coil '");
        says(faults_after("UPDATE instrument SET offset_si = 1e-9"), "offset_si of instrument '");
        says(faults_after("UPDATE reference_class SET correlation = 0.5 WHERE name = 'T-11'"),
             "correlation of reference_class 'T-11'");
        says(faults_after("UPDATE reading SET is_undone = 1 WHERE rid = 2"),
             "is_undone of reading '");
        says(faults_after("UPDATE setting SET value = '9 C'"), "the setting 'water'");
        says(faults_after("DELETE FROM setting"), "the setting 'water'");
        says(faults_after("INSERT INTO setting (name, value) VALUES ('a', 'b')"),
             "the setting 'a'");
        says(faults_after("DELETE FROM confirmation WHERE rid = 5"), "is in the history, but not");
        says(faults_after("INSERT INTO coil (id, code, notes, made_at_utc) VALUES "
                          "('01J0000000000000000000000Z', 'Z1', '', '2026-11-25T09:00:00.000Z')"),
             "the history does not know coil '01J0000000000000000000000Z'");
    }

    TEST_CASE("a reading's value must come out of the words written down") {
        const auto said =
            faults_after("UPDATE reading SET value_si = value_si * 1.01 WHERE rid = 1");
        says(said, "readings as written: the value of reading '");
        says(said, "is not what '22.4 gr' says");
        says(said, "the history: act ");
        says(faults_after("UPDATE reading SET value_text = 'pale' WHERE field = 'tint'"),
             "is not what 'dark' says");
    }

    TEST_CASE("two values in a field that holds one, and rows that point to nothing") {
        says(faults_after("INSERT INTO reading (id, coil, field, as_written, value_si, "
                          "taken_at_utc) VALUES ('01J0000000000000000000000Y', 1, "
                          "'sample_weight', '1 g', 0.001, '2026-11-25T09:00:00.000Z')"),
             "one of each: coil 'C0' has two readings of sample_weight");
    }
}

TEST_SUITE("Bits that rot") {
    // COILBOOK_FLIPS=2000 for a long run.
    TEST_CASE("a flipped byte is found or harmless: never a crash, never a wrong answer unsaid") {
        const TemporaryFolder folder(fs::is_directory("/dev/shm") ? fs::path("/dev/shm")
                                                                  : fs::temp_directory_path());
        const auto file = rich_catalogue(folder);
        const auto expected = [&] {
            auto catalogue = Catalogue::open(file);
            return answers_of(catalogue);
        }();
        const auto whole = bytes_of(file);
        const char* wanted = std::getenv("COILBOOK_FLIPS");
        const int flips = wanted ? std::atoi(wanted) : 100;
        std::mt19937 random(20261125);
        int refused = 0;
        int found = 0;
        int harmless = 0;
        for (int n = 0; n < flips; ++n) {
            auto bytes = whole;
            const auto at = random() % bytes.size();
            // Half of them flip one bit, half put any other byte there.
            const auto mask = random() % 2 == 0 ? 1U << random() % 8 : 1 + random() % 255;
            bytes[at] = static_cast<char>(static_cast<unsigned char>(bytes[at]) ^ mask);
            write_bytes(file, bytes);
            CAPTURE(at);
            CAPTURE(mask);
            try {
                auto catalogue = Catalogue::open(file);
                if (!faults(catalogue).empty()) {
                    ++found;
                    continue;
                }
                CHECK(answers_of(catalogue) == expected);
                ++harmless;
            } catch (const Error&) {
                ++refused;
            }
        }
        MESSAGE(flips << " flips of " << whole.size() << " bytes: " << refused
                      << " refused on opening, " << found << " found by the audit, " << harmless
                      << " harmless");
        CHECK(refused > 0);
        CHECK(found > 0);
    }

    TEST_CASE("a damaged catalogue is opened for reading, and what is whole can be read") {
        const TemporaryFolder folder;
        const auto file = rich_catalogue(folder);
        {
            auto database = db::Database::open(file, catalogue_kind());
            db::empty_table(database, "seal");
        }
        CHECK_THROWS_AS((void)Catalogue::open(file), db::Damage);
        auto catalogue = Catalogue::open_damaged(file);
        CHECK(catalogue.coils().count() == 12);
        CHECK_FALSE(faults(catalogue).empty());
        says(catalogue.why_read_only(), "opened for reading only");
        says(error_of([&] {
                 in_an_act(catalogue,
                           [&](Act& act) { return catalogue.coils().add(act, a_coil("B1")); });
             }),
             "opened for reading only");
    }
}
