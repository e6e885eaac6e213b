#include "db/backup.h"

#include "db/breakable.h"
#include "db/transaction.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;
namespace fs = std::filesystem;

namespace {

Database shelf_with_things(const TemporaryFolder& folder) {
    auto shelf = Database::create(folder / "a.shelf", shelf_kind());
    run_script(shelf,
               "CREATE TABLE thing (code TEXT NOT NULL) STRICT;"
               "INSERT INTO thing VALUES ('A1'), ('A2');");
    return shelf;
}

// While it lives, no file becomes larger, as on a disk without room.
class LargestFile {
  public:
    explicit LargestFile(::rlim_t bytes) : was_told_(::signal(SIGXFSZ, SIG_IGN)) {
        ::getrlimit(RLIMIT_FSIZE, &was_);
        const ::rlimit limit{bytes, was_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &limit);
    }
    ~LargestFile() {
        ::setrlimit(RLIMIT_FSIZE, &was_);
        ::signal(SIGXFSZ, was_told_);
    }
    LargestFile(const LargestFile&) = delete;
    LargestFile& operator=(const LargestFile&) = delete;

  private:
    void (*was_told_)(int);
    ::rlimit was_{};
};

}  // namespace

TEST_SUITE("Backups") {
    TEST_CASE("the copy holds what is committed, is its owner's alone and one file by itself") {
        const TemporaryFolder folder;
        const auto old_mask = ::umask(0);
        auto shelf = shelf_with_things(folder);
        fs::create_directory(folder / "kept");
        const auto kept = folder / "kept" / "a.bak";
        {
            Transaction half_done(shelf);
            half_done.run_script("INSERT INTO thing VALUES ('A3')");
            back_up(shelf, kept);
        }
        ::umask(old_mask);
        CHECK(std::distance(fs::directory_iterator(folder / "kept"), {}) == 1);
        CHECK(fs::status(kept).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
        // 1 says that it needs no log, 2 that it has one: SQLite's fileformat2.html, 1.3.
        CHECK(bytes_of(kept)[18] == 1);
        const auto copy = Database::open(kept, shelf_kind());
        CHECK(number(copy, "SELECT count(*) AS n FROM thing") == 2);
    }

    TEST_CASE("a copy is put back in one piece, while another program has the file open") {
        const TemporaryFolder folder;
        auto shelf = shelf_with_things(folder);
        back_up(shelf, folder / "a.bak");
        run_script(shelf, "DELETE FROM thing; INSERT INTO thing VALUES ('new')");
        const auto other = Database::open(folder / "a.shelf", shelf_kind());
        Statement count(other, "SELECT count(*) AS n FROM thing");
        const auto things = [&] {
            return count.first([](const Row& row) { return row.integer("n"); });
        };
        CHECK(things() == 1);
        const auto before = other.data_version();
        put_in_place(shelf, Database::open(folder / "a.bak", shelf_kind()));
        CHECK(things() == 2);
        CHECK(other.data_version() != before);
        CHECK(shelf.damage().empty());
        run_script(shelf, "INSERT INTO thing VALUES ('A3')");
        CHECK(things() == 3);
        CHECK(number(Database::open(folder / "a.bak", shelf_kind()),
                     "SELECT count(*) AS n FROM thing") == 2);
    }

    TEST_CASE("an older copy of that name is replaced, also after an attempt that was cut short") {
        const TemporaryFolder folder;
        const auto shelf = shelf_with_things(folder);
        write_bytes(folder / "a.bak", "older");
        write_bytes(folder / "a.bak.tmp", "cut short");
        back_up(shelf, folder / "a.bak");
        CHECK(number(Database::open(folder / "a.bak", shelf_kind()),
                     "SELECT count(*) AS n FROM thing") == 2);
        CHECK_FALSE(fs::exists(folder / "a.bak.tmp"));
    }

    TEST_CASE("two programs do not make the same copy at once") {
        const TemporaryFolder folder;
        const auto shelf = shelf_with_things(folder);
        const int other = ::open((folder / "a.bak.tmp").c_str(), O_RDWR | O_CREAT, 0600);
        REQUIRE(::flock(other, LOCK_EX | LOCK_NB) == 0);
        says(error_of([&] { back_up(shelf, folder / "a.bak"); }),
             "another program is making this copy just now");
        CHECK(fs::exists(folder / "a.bak.tmp"));  // its own
        ::close(other);
        back_up(shelf, folder / "a.bak");
        CHECK_FALSE(fs::exists(folder / "a.bak.tmp"));
    }

    TEST_CASE("a copy that cannot be made leaves the older one and says what it was doing") {
        const TemporaryFolder folder;
        const auto shelf = shelf_with_things(folder);
        fs::create_directory(folder / "a.bak");
        write_bytes(folder / "a.bak" / "in the way", "");
        says(error_of([&] { back_up(shelf, folder / "a.bak"); }), "backing up '");
        CHECK(fs::exists(folder / "a.bak" / "in the way"));
        CHECK_FALSE(fs::exists(folder / "a.bak.tmp"));
        says(error_of([&] { back_up(shelf, folder / "no" / "a.bak"); }), "cannot be entered");
    }

    TEST_CASE("a copy for which there is no room leaves nothing behind, the older one stays") {
        const TemporaryFolder folder;
        auto shelf = shelf_with_things(folder);
        for (int at = 0; at < 5; ++at) {  // 4 MB, more than SQLite keeps back before it writes
            run_script(shelf, "INSERT INTO thing VALUES (hex(zeroblob(400000)))");
        }
        back_up(shelf, folder / "a.bak");
        const auto older = bytes_of(folder / "a.bak");
        const auto before = folder.count();
        for (const ::rlim_t size : {3'000'000U, 100'000U, 512U}) {
            CAPTURE(size);
            const auto words = [&] {
                const LargestFile limit(size);
                return error_of([&] { back_up(shelf, folder / "a.bak"); });
            }();
            says(words, "backing up '");
            CHECK(folder.count() == before);
        }
        CHECK(bytes_of(folder / "a.bak") == older);
        CHECK(shelf.damage().empty());
    }

    TEST_CASE("of a damaged file it is said that it is damaged, not its copy") {
        const TemporaryFolder folder;
        (void)shelf_with_things(folder);
        auto bytes = bytes_of(folder / "a.shelf");
        bytes.replace(4096, 200, 200, '\xEE');  // the head of the page of the table
        write_bytes(folder / "a.shelf", bytes);
        const auto shelf = Database::open_damaged(folder / "a.shelf", shelf_kind());
        CHECK_THROWS_AS(back_up(shelf, folder / "a.bak"), Damage);
        const auto words = error_of([&] { back_up(shelf, folder / "a.bak"); });
        says(words, ": '" + (folder / "a.shelf").string() + "' is damaged; keep a copy of it");
        CHECK_FALSE(mentions(words, ".tmp"));
        CHECK_FALSE(fs::exists(folder / "a.bak.tmp"));
        CHECK_FALSE(fs::exists(folder / "a.bak"));
    }

    TEST_CASE("one that is not wanted any more leaves nothing behind, and says how far it was") {
        const TemporaryFolder folder;
        const auto shelf = shelf_with_things(folder);
        write_bytes(folder / "a.bak", "older");
        const auto before = folder.count();
        {
            int asked = 0;
            const Breakable breakable(shelf, [&] { return ++asked > 1; });
            CHECK_THROWS_AS(back_up(shelf, folder / "a.bak"), BrokenOff);
        }
        CHECK(bytes_of(folder / "a.bak") == "older");
        CHECK(folder.count() == before);
        back_up(shelf, folder / "a.bak");
        CHECK(number(Database::open(folder / "a.bak", shelf_kind()),
                     "SELECT count(*) AS n FROM thing") == 2);
    }

    TEST_CASE("a statement that is not wanted any more ends, and its transaction is taken back") {
        const TemporaryFolder folder;
        auto shelf = shelf_with_things(folder);
        const auto many = R"sql(
            INSERT INTO thing (code)
            WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 100000)
            SELECT 'thing ' || i FROM n)sql";
        int asked = 0;
        const auto insert = [&] {
            Transaction transaction(shelf);
            Statement(shelf, many).run(transaction);
            transaction.commit();
        };
        {
            const Breakable breakable(shelf, [&] { return ++asked > 3; });
            CHECK_THROWS_AS(insert(), BrokenOff);
        }
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 2);
        insert();  // nobody asks any more
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 100002);
    }
}
