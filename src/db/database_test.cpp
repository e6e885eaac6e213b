#include "db/database.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "db/connection.h"
#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;
namespace fs = std::filesystem;

namespace {

unsigned mode_of(const fs::path& file) {
    struct stat found {};
    REQUIRE(::stat(file.c_str(), &found) == 0);
    return found.st_mode & 0777U;
}

// A shelf of version 1 with one thing on it, closed.
fs::path shelf_in(const TemporaryFolder& folder) {
    auto shelf = Database::create(folder / "a.shelf", shelf_kind());
    run_script(shelf,
               "CREATE TABLE thing (code TEXT NOT NULL) STRICT;"
               "INSERT INTO thing VALUES ('A1');");
    shelf.connection()->command("PRAGMA user_version = 1");
    return shelf.file();
}

std::string refusal(const fs::path& file, const FileKind& kind = shelf_kind()) {
    return error_of([&] { (void)Database::open(file, kind); });
}

// Runs `act` in a process of its own; what it returns (0 to 255).
template <class Act>
int in_another_process(Act act) {
    const pid_t child = ::fork();
    if (child == 0) {
        int result = 255;
        try {
            result = act();
        } catch (...) {
        }
        ::_exit(result);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

// Whether some process other than the caller holds a lock on the file.
bool is_locked_by_another(const fs::path& file) {
    return in_another_process([&] {
               const int opened = ::open(file.c_str(), O_RDWR | O_CLOEXEC);
               struct flock lock {};
               lock.l_type = F_WRLCK;
               lock.l_whence = SEEK_SET;
               return ::fcntl(opened, F_GETLK, &lock) == 0 && lock.l_type != F_UNLCK ? 1 : 0;
           }) == 1;
}

}  // namespace

TEST_SUITE("Opening and creating a file") {
    TEST_CASE("a new file is its owner's alone, with its mark, and keeps a write-ahead log") {
        const TemporaryFolder folder;
        const auto old_mask = ::umask(0);
        auto shelf = Database::create(folder / "a.shelf", shelf_kind());
        ::umask(old_mask);
        CHECK(mode_of(shelf.file()) == 0600);
        run_script(shelf, "CREATE TABLE thing (code TEXT) STRICT");
        CHECK(mode_of(shelf.file().string() + "-wal") == 0600);
        CHECK(shelf.version() == 0);
        CHECK(shelf.connection()->word("PRAGMA journal_mode") == "wal");
        CHECK(shelf.connection()->number("PRAGMA synchronous") == 2);
        CHECK(shelf.connection()->number("PRAGMA foreign_keys") == 1);
        CHECK(shelf.connection()->number("PRAGMA trusted_schema") == 0);
        CHECK(shelf.connection()->number("PRAGMA cell_size_check") == 1);
    }

    TEST_CASE("a umask that would take everything away does not lock its owner out") {
        const TemporaryFolder folder;
        const auto old_mask = ::umask(0777);
        const auto shelf = Database::create(folder / "a.shelf", shelf_kind());
        ::umask(old_mask);
        CHECK(mode_of(shelf.file()) == 0600);
    }

    TEST_CASE("what was committed is there when the file is opened again") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        CHECK(folder.count() == 1);  // the log is written back and gone
        const auto shelf = Database::open(file, shelf_kind());
        CHECK(shelf.version() == 1);
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 1);
        CHECK(shelf.damage().empty());
    }

    TEST_CASE("a file is found from the folder that one is in, and by way of a linked folder") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        fs::create_directory_symlink(folder.path(), folder / "linked");
        const auto shelf = Database::open(folder / "linked" / "a.shelf", shelf_kind());
        CHECK(shelf.file() == file);
        const auto here = fs::current_path();
        fs::current_path(folder.path());
        CHECK(Database::open("a.shelf", shelf_kind()).file() == file);
        fs::current_path(here);
    }

    TEST_CASE("a name that is taken is not created again, and its file stays") {
        const TemporaryFolder folder;
        write_bytes(folder / "a.shelf", "shopping list");
        const auto said =
            error_of([&] { (void)Database::create(folder / "a.shelf", shelf_kind()); });
        says(said, "a.shelf' exists already");
        CHECK(bytes_of(folder / "a.shelf") == "shopping list");
    }

    TEST_CASE("a log left from an earlier file is not taken into a new one") {
        const TemporaryFolder folder;
        write_bytes(folder / "a.shelf-wal", "old");
        says(error_of([&] { (void)Database::create(folder / "a.shelf", shelf_kind()); }),
             "is left from an earlier shelf");
        CHECK(folder.count() == 1);
    }

    TEST_CASE("nothing is created in a folder that is not there") {
        const TemporaryFolder folder;
        says(error_of([&] { (void)Database::create(folder / "no" / "a.shelf", shelf_kind()); }),
             "create it first");
        CHECK(folder.count() == 0);
    }
}

TEST_SUITE("Files that are refused") {
    TEST_CASE("a file that does not exist is not made by opening it") {
        const TemporaryFolder folder;
        says(refusal(folder / "a.shelf"), "a.shelf' does not exist; create a new shelf");
        says(refusal(folder / "no" / "a.shelf"), "cannot be entered");
        CHECK(folder.count() == 0);
    }

    TEST_CASE("a folder, a link, a pipe and an empty file are no shelf") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        fs::create_directory(folder / "folder");
        fs::create_symlink(file, folder / "link");
        REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
        write_bytes(folder / "empty", "");
        says(refusal(folder / "folder"), "is a folder");
        says(refusal(folder / "link"), "is a link; name the file");
        says(refusal(folder / "pipe"), "a device or a pipe");
        says(refusal(folder / "empty"), "is empty; delete it");
        CHECK(bytes_of(folder / "empty").empty());
        CHECK(folder.count() == 5);
    }

    TEST_CASE("a text file stays as it was, and nothing is left beside it") {
        const TemporaryFolder folder;
        for (const std::string& text : {std::string("code,note\nA1,\n"), std::string(5000, 'x')}) {
            write_bytes(folder / "list.csv", text);
            says(refusal(folder / "list.csv"), "list.csv' is not a shelf");
            CHECK(bytes_of(folder / "list.csv") == text);
        }
        CHECK(folder.count() == 1);
    }

    TEST_CASE("another program's database is refused by its mark") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        const auto before = bytes_of(file);
        auto other = shelf_kind();
        other.application_id = 7;
        says(refusal(file, other), "belongs to another program");
        CHECK(bytes_of(file) == before);
        CHECK(folder.count() == 1);
    }

    TEST_CASE("a file of a newer version is not touched") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        const auto before = bytes_of(file);
        says(refusal(file, shelf_kind(0)), "newer version of this program (format 1");
        CHECK(bytes_of(file) == before);
        CHECK(folder.count() == 1);
    }

    TEST_CASE("a newer version that stands only in the write-ahead log is seen, too") {
        const TemporaryFolder folder;
        auto shelf = Database::create(folder / "a.shelf", shelf_kind(9));
        shelf.connection()->command("PRAGMA user_version = 9");
        // What a laptop that lost its power would leave: the file and its log, not written back.
        fs::create_directory(folder / "found");
        fs::copy_file(shelf.file(), folder / "found" / "a.shelf");
        fs::copy_file(shelf.file().string() + "-wal", folder / "found" / "a.shelf-wal");
        const auto file = folder / "found" / "a.shelf";
        const auto before = bytes_of(file);
        const auto log = bytes_of(file.string() + "-wal");
        says(refusal(file, shelf_kind(3)), "format 9, this one knows up to 3");
        CHECK(bytes_of(file) == before);
        CHECK(bytes_of(file.string() + "-wal") == log);
        CHECK(Database::open(file, shelf_kind(9)).version() == 9);
    }

    TEST_CASE("a file that is cut off says so and stays as it was") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        const auto whole = bytes_of(file);
        for (const std::size_t size : {whole.size() - 1, whole.size() / 2, std::size_t{120}}) {
            CAPTURE(size);
            write_bytes(file, whole.substr(0, size));
            says(refusal(file), "is cut off: its end is missing");
            CHECK(bytes_of(file) == whole.substr(0, size));
        }
        write_bytes(file, whole.substr(0, 60));
        says(refusal(file), "is not a shelf");
        CHECK(folder.count() == 1);
    }

    TEST_CASE("a disk without room is full, also where SQLite only says that it refused") {
        constexpr std::uintmax_t much = 1'000'000'000;
        CHECK(cause_of(SQLITE_IOERR_SHMSIZE, 0, 0) == SQLITE_FULL);
        CHECK(cause_of(SQLITE_IOERR_WRITE, ENOSPC, much) == SQLITE_FULL);
        CHECK(cause_of(SQLITE_CANTOPEN, EDQUOT, much) == SQLITE_FULL);
        says(in_words(cause_of(SQLITE_IOERR, 0, 4096), "'a.shelf'", "disk I/O error"),
             "the disk is full; make room");
        // What fails with room enough, or while it is read, is the disk's own fault.
        CHECK(cause_of(SQLITE_IOERR_WRITE, EIO, much) == SQLITE_IOERR_WRITE);
        CHECK(cause_of(SQLITE_IOERR_READ, EIO, 0) == SQLITE_IOERR_READ);
        CHECK(cause_of(SQLITE_CANTOPEN, EACCES, much) == SQLITE_CANTOPEN);
        CHECK(cause_of(SQLITE_CORRUPT, 0, 0) == SQLITE_CORRUPT);
    }

    TEST_CASE("what cannot be opened is said in one sentence") {
        const TemporaryFolder folder;
        const auto open = [&] {
            const Connection none((folder / "none.shelf").string(), existing_file, "'none.shelf'");
        };
        CHECK(error_of(open).starts_with("'none.shelf' or its folder cannot be opened; check the"));
    }

    TEST_CASE("a file with a damaged page is refused on opening, not in the middle of the work") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        auto bytes = bytes_of(file);
        bytes.replace(4096, 200, 200, '\xEE');  // the head of the page of the table
        write_bytes(file, bytes);
        says(refusal(file), "is damaged; keep a copy");
        CHECK(bytes_of(file) == bytes);
        CHECK(folder.count() == 1);
    }

    TEST_CASE(
        "a file that is looked through meanwhile is read at once, and written once it is sound") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        const auto kind = shelf_kind(1);  // an older one would be brought up to date
        {
            auto shelf = Database::open(file, kind, Looking::meanwhile);
            CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 1);
            run_script(shelf, "INSERT INTO thing VALUES ('A2')");
            CHECK(shelf.damage_seen() == "");
        }
        CHECK(folder.count() == 1);
        auto bytes = bytes_of(file);
        bytes.replace(4096, 200, 200, '\xEE');
        write_bytes(file, bytes);
        {
            auto shelf = Database::open(file, kind, Looking::meanwhile);
            says(error_of([&] { run_script(shelf, "DELETE FROM thing"); }), "is damaged; keep a");
            says(error_of([&] { run_script(shelf, "DELETE FROM thing"); }), "is damaged; keep a");
            says(shelf.damage_seen().value_or(""), "is damaged; keep a copy");
        }
        CHECK(bytes_of(file) == bytes);
        CHECK(folder.count() == 1);
    }

    TEST_CASE("a read-only file is read, and nothing is written to it or beside it") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        fs::rename(file, folder / "100% sure?#1.shelf");
        const auto odd = folder / "100% sure?#1.shelf";
        fs::permissions(odd, fs::perms::owner_read);
        {
            auto shelf = Database::open(odd, shelf_kind());
            CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 1);
            says(shelf.why_read_only(), "is read-only; allow writing to it");
            says(error_of([&] { run_script(shelf, "INSERT INTO thing VALUES ('A2')"); }),
                 "is read-only; allow writing to it");
            CHECK(folder.count() == 1);
        }
        CHECK(folder.count() == 1);
    }

    TEST_CASE("a read-only folder is read from, unless a log in it holds the last changes") {
        const TemporaryFolder folder;
        fs::create_directory(folder / "card");
        { const auto made = shelf_in(folder); }
        fs::rename(folder / "a.shelf", folder / "card" / "a.shelf");
        const auto file = folder / "card" / "a.shelf";
        fs::permissions(folder / "card", fs::perms::owner_read | fs::perms::owner_exec);
        {
            const auto shelf = Database::open(file, shelf_kind());
            CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 1);
            says(shelf.why_read_only(), "the folder of '");
        }
        fs::permissions(folder / "card", fs::perms::owner_all);
        write_bytes(file.string() + "-wal", "something");
        fs::permissions(folder / "card", fs::perms::owner_read | fs::perms::owner_exec);
        says(refusal(file), "last changes still stand in the log beside it");
        fs::permissions(folder / "card", fs::perms::owner_all);
    }

    TEST_CASE("a file with two names is refused, since each name would get its own log") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        fs::create_hard_link(file, folder / "b.shelf");
        says(refusal(file), "has 2 names");
        fs::remove(folder / "b.shelf");
        CHECK(refusal(file) == "");
    }
}

TEST_SUITE("A file from a stranger") {
    TEST_CASE("settings, files and transactions are out of reach of statements") {
        auto shelf = Database::in_memory(shelf_kind());
        run_script(shelf, "CREATE TABLE thing (code TEXT) STRICT;");
        for (const char* sql : {"PRAGMA foreign_keys = OFF", "PRAGMA writable_schema = ON", "BEGIN",
                                "COMMIT", "ATTACH 'other' AS other", "SAVEPOINT s"}) {
            CAPTURE(sql);
            says(error_of([&] { const Statement refused(shelf, sql); }), "not authorized");
        }
        says(error_of([&] { run_script(shelf, "DELETE FROM thing; COMMIT;"); }), "not authorized");
        CHECK(number(shelf, "SELECT foreign_keys AS n FROM pragma_foreign_keys") == 1);
    }

    TEST_CASE("no code is loaded from a file") {
        auto shelf = Database::in_memory(shelf_kind());
        says(error_of([&] { (void)number(shelf, "SELECT load_extension('libm.so.6') AS n"); }),
             "not authorized");
    }

    TEST_CASE("a word in double quotes is a name and never a text") {
        const auto shelf = Database::in_memory(shelf_kind());
        says(error_of([&] { const Statement refused(shelf, "SELECT \"oops\" AS n"); }),
             "no such column");
    }

    TEST_CASE("the schema cannot be rewritten behind SQLite's back") {
        auto shelf = Database::in_memory(shelf_kind());
        shelf.connection()->command("PRAGMA writable_schema = ON");
        CHECK(error_of([&] { run_script(shelf, "UPDATE sqlite_schema SET sql = 'nonsense'"); }) !=
              "");
    }
}

TEST_SUITE("Two programs at one file") {
    TEST_CASE("the data version changes when another connection has committed, and only then") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        auto mine = Database::open(file, shelf_kind());
        auto other = Database::open(file, shelf_kind());
        const auto before = mine.data_version();
        run_script(mine, "INSERT INTO thing VALUES ('mine')");
        CHECK(mine.data_version() == before);
        run_script(other, "INSERT INTO thing VALUES ('other')");
        CHECK(mine.data_version() != before);
        CHECK(number(mine, "SELECT count(*) AS n FROM thing") == 3);
    }

    // A second open() of the file itself, closed again, would have dropped them.
    TEST_CASE("opening a file twice, or being refused, leaves the first one's locks in place") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        CHECK_FALSE(is_locked_by_another(file));
        const auto shelf = Database::open(file, shelf_kind());
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 1);
        CHECK(is_locked_by_another(file));
        CHECK(refusal(file) == "");
        auto other = shelf_kind();
        other.application_id = 7;
        says(refusal(file, other), "belongs to another program");
        CHECK(is_locked_by_another(file));
    }

    TEST_CASE("a program that is killed in the middle of a transaction leaves nothing of it") {
        const TemporaryFolder folder;
        const auto file = shelf_in(folder);
        const int ended = in_another_process([&] {
            auto shelf = Database::open(file, shelf_kind());
            run_script(shelf, "INSERT INTO thing VALUES ('committed')");
            Transaction transaction(shelf);
            transaction.run_script("INSERT INTO thing VALUES ('half done')");
            return ::raise(SIGKILL);
        });
        CHECK(ended == -SIGKILL);
        const auto shelf = Database::open(file, shelf_kind());
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 2);
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing WHERE code = 'half done'") == 0);
    }
}
