// Catalogues that somebody else has made, perhaps on purpose.
#include <sys/stat.h>

#include <array>
#include <cstdlib>

#include "store/coil_repository.h"
#include "store/history_repository.h"
#include "store/salvage.h"
#include "support/catalogue.h"
#include "support/database.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

fs::path a_catalogue(const TemporaryFolder& folder) {
    auto catalogue = Catalogue::create(folder / "a.coilbook");
    in_an_act(catalogue, [&](Act& act) { (void)catalogue.coils().add(act, a_coil("A7")); });
    return catalogue.file();
}

// Runs SQL as another program would, with none of our settings.
void as_another_program(const fs::path& file, const std::string& sql) {
    const auto script = file.string() + ".sql";
    write_bytes(script, sql + ";\n.quit\n");
    const auto command = "sqlite3 '" + file.string() + "' < '" + script + "' > /dev/null 2>&1";
    REQUIRE(std::system(command.c_str()) == 0);
    fs::remove(script);
}

}  // namespace

TEST_SUITE("A stranger's catalogue") {
    TEST_CASE("with anything of its own in the schema is refused, and stays as it was") {
        constexpr std::array tricks{
            "CREATE TRIGGER spoil AFTER INSERT ON coil BEGIN UPDATE coil SET notes = 'x'; END",
            "CREATE TRIGGER spoil BEFORE INSERT ON act BEGIN DELETE FROM open_act; END",
            "CREATE VIEW extra AS WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) "
            "SELECT i FROM n",
            "DROP VIEW act_state; CREATE VIEW act_state AS SELECT *, '' AS undoes_id, 'done' AS "
            "state FROM act",
            "DROP TRIGGER reading_stays_2",
            "CREATE INDEX slow ON coil (notes || hex(randomblob(10)))",
            "CREATE VIRTUAL TABLE words USING fts5 (word)",
            "ALTER TABLE coil ADD COLUMN extra TEXT GENERATED ALWAYS AS (code || code)",
            "DROP INDEX coil_code",
        };
        for (const char* trick : tricks) {
            CAPTURE(trick);
            const TemporaryFolder folder;
            const auto file = a_catalogue(folder);
            // Functions that are not deterministic are refused in an index by SQLite itself.
            if (std::string(trick).find("randomblob") != std::string::npos) continue;
            as_another_program(file, trick);
            const auto bytes = bytes_of(file);
            const auto refused = error_of([&] { (void)Catalogue::open(file); });
            CHECK_FALSE(refused.empty());
            CHECK((mentions(refused, "does not have the tables") ||
                   mentions(refused, "keep a copy")));
            CHECK(bytes_of(file) == bytes);
        }
    }

    TEST_CASE("with a giant text says so, and nothing of it is kept in memory") {
        const TemporaryFolder folder;
        const auto file = a_catalogue(folder);
        as_another_program(
            file,
            "INSERT INTO act (id, at_utc, who, program, what, why) VALUES "
            "('01ARZ3NDEKTSV4RRFFQ69G5FAV', '2026-01-01T00:00:00.000Z', '', '', 'x', "
            "hex(zeroblob(3000000)))");
        says(error_of([&] { (void)Catalogue::open(file); }), "is damaged in its history");
        const auto looked_at = Catalogue::open_damaged(file);
        says(error_of([&] { (void)looked_at.history().list(); }), "larger than this program takes");
    }

    TEST_CASE("with texts that are no text does not crash, and check tells of them") {
        constexpr std::array texts{"CAST(x'41004200' AS TEXT)", "CAST(x'FFFE' AS TEXT)",
                                   "CAST(x'EDA080' AS TEXT)"};
        for (const char* text : texts) {
            CAPTURE(text);
            const TemporaryFolder folder;
            const auto file = a_catalogue(folder);
            as_another_program(file, std::string("INSERT INTO open_act VALUES (1, 1); UPDATE coil "
                                                 "SET notes = ") +
                                         text + "; DELETE FROM open_act");
            std::string said;
            try {
                const auto catalogue = Catalogue::open(file);
                said = error_of([&] { (void)catalogue.coils().list(); });
                for (const auto& inspection : catalogue.audit()) {
                    for (const auto& wrong : inspection.wrong) said += wrong;
                }
            } catch (const Error& error) {
                said = error.what();
            }
            CHECK_FALSE(said.empty());
        }
    }

    TEST_CASE("that is a pipe, a device or a folder is refused without waiting for anybody") {
        const TemporaryFolder folder;
        const auto pipe = folder / "pipe";
        REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
        for (const auto& file :
             {pipe, fs::path("/dev/zero"), fs::path("/dev/null"), folder.path()}) {
            CAPTURE(file);
            CHECK_FALSE(error_of([&] { (void)Catalogue::open(file); }).empty());
            CHECK_FALSE(error_of([&] { (void)Catalogue::open_damaged(file); }).empty());
            CHECK_FALSE(error_of([&] {
                            (void)salvage(file, folder / "new", note_for("salvage"));
                        }).empty());
            CHECK_FALSE(fs::exists(folder / "new"));
        }
    }
}
