#include "db/backup.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Exception.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cerrno>
#include <cstring>
#include <vector>

#include "base/broken_off.h"
#include "base/error.h"
#include "base/text.h"
#include "db/connection.h"
#include "db/looking_through.h"
#include "db/preflight.h"

namespace coilbook::db {
namespace {

// A new name is on the disk only when its folder is.
void sync_folder(const std::filesystem::path& folder) {
    const int opened = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    const bool done = opened >= 0 && ::fsync(opened) == 0;
    const int why = errno;
    if (opened >= 0) ::close(opened);
    if (!done) {
        throw Error(fmt::format("the folder {} cannot be written to the disk ({})",
                                coilbook::quoted(folder.string(), 300), std::strerror(why)));
    }
}

// The file that a copy is made in before it gets its name: locked, so that two programs do not make
// the same copy at once, empty, and its owner's alone. One that an attempt left behind is taken
// over.
class Unfinished {
  public:
    explicit Unfinished(const std::filesystem::path& file) {
        while (!take(file)) {  // somebody else has just finished his and given it its name
        }
    }
    ~Unfinished() {
        if (handle_ >= 0) ::close(handle_);
    }
    Unfinished(const Unfinished&) = delete;
    Unfinished& operator=(const Unfinished&) = delete;

  private:
    bool take(const std::filesystem::path& file) {
        const auto shown = coilbook::quoted(file.string(), 300);
        handle_ = ::open(file.c_str(), O_RDWR | O_CREAT | O_NOFOLLOW | O_CLOEXEC, 0600);
        if (handle_ < 0) {
            throw Error(fmt::format("{} cannot be created ({})", shown, std::strerror(errno)));
        }
        struct stat locked {};
        struct stat named {};
        const bool is_mine = ::flock(handle_, LOCK_EX | LOCK_NB) == 0;
        const bool is_it = is_mine && ::fstat(handle_, &locked) == 0 &&
                           ::lstat(file.c_str(), &named) == 0 && locked.st_ino == named.st_ino &&
                           locked.st_dev == named.st_dev;
        if (is_it && ::fchmod(handle_, 0600) == 0 && ::ftruncate(handle_, 0) == 0) return true;
        ::close(handle_);
        handle_ = -1;
        if (!is_mine) throw Error("another program is making this copy just now");
        if (is_it)
            throw Error(fmt::format("{} cannot be written ({})", shown, std::strerror(errno)));
        return false;
    }

    int handle_ = -1;
};

// Removes an unfinished copy, last of all itself, so that what belongs to it is never left alone.
void remove_whole(const std::filesystem::path& unfinished) {
    std::error_code none;
    for (const char* ending : {"-journal", "-wal", "-shm", ""}) {
        std::filesystem::remove(unfinished.string() + ending, none);
    }
}

// Whether it is an unfinished copy that nobody works at any more, and surely one of ours: its
// owner's alone, and begun as a file of this kind.
bool is_left_behind(int handle, const std::filesystem::path& file, const FileKind& kind) {
    struct stat opened {};
    struct stat named {};
    const bool is_it = ::fstat(handle, &opened) == 0 && ::lstat(file.c_str(), &named) == 0 &&
                       opened.st_ino == named.st_ino && opened.st_dev == named.st_dev;
    const bool is_ours = is_it && S_ISREG(opened.st_mode) && opened.st_nlink == 1 &&
                         opened.st_uid == ::geteuid() && (opened.st_mode & 0777) == 0600;
    if (!is_ours || ::flock(handle, LOCK_EX | LOCK_NB) != 0) return false;
    std::array<unsigned char, 100> beginning{};
    return ::pread(handle, beginning.data(), beginning.size(), 0) >= 0 &&
           may_be_begun(beginning, kind);
}

// Removes what copies that were cut short, by a power cut say, left beside `file`.
void clear_left_behind(const std::filesystem::path& file, const FileKind& kind) {
    const auto ending = file.extension().string() + ".tmp";
    std::error_code none;
    std::vector<std::filesystem::path> candidates;
    for (const auto& entry : std::filesystem::directory_iterator(file.parent_path(), none)) {
        if (entry.path().filename().string().ends_with(ending)) candidates.push_back(entry.path());
    }
    for (const auto& candidate : candidates) {
        const int handle =
            ::open(candidate.c_str(), O_RDONLY | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK);
        if (handle < 0) continue;
        if (is_left_behind(handle, candidate, kind)) {
            remove_whole(candidate);
        }
        ::close(handle);
    }
}

// In pieces of `pages`, or all at once where that is -1. What others write between two pieces is
// copied, too.
void copy_pages(Connection& from, Connection& to, int pages = -1,
                const std::function<void(double)>& reached = {}) {
    try {
        SQLite::Backup backup(to.sqlite(), from.sqlite());
        int code = SQLITE_OK;
        while (code == SQLITE_OK) {
            if (from.is_unwanted() && from.is_unwanted()()) throw BrokenOff{};
            code = backup.executeStep(pages);
            const auto all = static_cast<double>(std::max(backup.getTotalPageCount(), 1));
            if (reached) reached(1 - static_cast<double>(backup.getRemainingPageCount()) / all);
        }
        const int kind = code & 0xFF;
        if (kind == SQLITE_CORRUPT || kind == SQLITE_NOTADB) {  // what is copied, not the copy
            throw Damage(in_words(code, from.shown(), sqlite3_errstr(code)));
        }
        if (code != SQLITE_DONE) to.fail(code, "copying", from.shown());
    } catch (const SQLite::Exception& error) {
        throw Error("copying " + from.shown() + ": " +
                    in_words(error.getErrorCode(), to.shown(), error.what()));
    }
}

constexpr int a_piece = 2048;         // pages: 8 MiB, some hundredths of a second
constexpr double until_copied = 0.5;  // of the time; the rest is looking at the copy

// Closes the copy into one file, and gives what is wrong with it in SQLite's words.
std::string damage_in(const Connection& copied) {
    try {
        if (copied.word("PRAGMA journal_mode = DELETE") != "delete") {
            throw Error("the copy " + copied.shown() + " cannot be closed into one file");
        }
        const auto found = copied.word("PRAGMA quick_check(1)");
        return found == "ok" ? "" : found;
    } catch (const Damage&) {
        return sqlite3_errstr(SQLITE_CORRUPT);
    }
}

void copy(const Database& database, const std::filesystem::path& target,
          const std::function<void(double)>& reached) {
    // A second handle on the source, since SQLite does not copy from one that is writing: so a
    // migration can hold the writer's place while the copy is made of what was before.
    Connection source = database.connection()->again();
    Connection copied(target.string(), existing_file, coilbook::quoted(target.string(), 300));
    source.set_safe();
    copied.set_safe();
    source.break_off_when(database.connection()->is_unwanted());
    copied.break_off_when(database.connection()->is_unwanted());
    copy_pages(source, copied, a_piece, [&](double part) {
        if (reached) reached(until_copied * part);
    });
    if (const auto found = damage_in(copied); !found.empty()) {
        if (const auto before = first_damage(source); !before.empty()) throw Damage(before);
        throw Error("the copy " + copied.shown() + " is not whole: " + found);
    }
}

}  // namespace

void check_given(const std::filesystem::path& given, const FileKind& kind) {
    const auto file = with_real_folder(given);
    check_outside(file, kind);
    const Connection connection(file.string(), SQLITE_OPEN_READONLY | SQLITE_OPEN_NOFOLLOW,
                                coilbook::quoted(file.string(), 300));
    check_header(connection, file, kind);
}

void back_up(const Database& database, const std::filesystem::path& target,
             const std::function<void(double)>& reached) {
    assert(!database.file().empty() && "a database in memory has nothing to copy from");
    const auto file = with_real_folder(target);
    std::filesystem::path unfinished = file;
    unfinished += ".tmp";
    bool is_mine = false;
    try {
        const Unfinished locked(unfinished);
        is_mine = true;
        clear_left_behind(file, database.kind());
        copy(database, unfinished, reached);
        std::filesystem::rename(unfinished, file);
        sync_folder(file.parent_path());
    } catch (const BrokenOff&) {
        remove_whole(unfinished);
        throw;
    } catch (const std::exception& error) {
        if (is_mine) remove_whole(unfinished);
        const auto sentence = fmt::format("backing up {} to {}: {}", database.shown(),
                                          coilbook::quoted(file.string(), 300), error.what());
        if (dynamic_cast<const Damage*>(&error) != nullptr) throw Damage(sentence);
        throw Error(sentence);
    }
}

void put_in_place(Database& target, const Database& source) {
    if (!target.why_read_only().empty()) throw Error(target.why_read_only());
    target.wait_until_sound();
    Connection from = source.connection()->again();
    from.set_safe();
    copy_pages(from, *target.connection());
}

}  // namespace coilbook::db
