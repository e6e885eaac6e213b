#include "db/backup.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Exception.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cassert>
#include <cerrno>
#include <cstring>

#include "base/error.h"
#include "base/text.h"
#include "db/connection.h"
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

void copy_pages(Connection& from, Connection& to) {
    try {
        SQLite::Backup backup(to.sqlite(), from.sqlite());
        const int code = backup.executeStep(-1);
        if (code != SQLITE_DONE) to.fail(code, "copying", from.shown());
    } catch (const SQLite::Exception& error) {
        throw Error("copying " + from.shown() + ": " +
                    in_words(error.getErrorCode(), to.shown(), error.what()));
    }
}

void copy(const Database& database, const std::filesystem::path& target) {
    // A second handle on the source, since SQLite does not copy from one that is writing: so a
    // migration can hold the writer's place while the copy is made of what was before.
    Connection source = database.connection()->again();
    Connection copied(target.string(), existing_file, coilbook::quoted(target.string(), 300));
    source.set_safe();
    copied.set_safe();
    copy_pages(source, copied);
    if (copied.word("PRAGMA journal_mode = DELETE") != "delete") {  // so the copy is one file
        throw Error("the copy " + copied.shown() + " cannot be closed into one file");
    }
    const auto found = copied.word("PRAGMA quick_check(1)");
    if (found != "ok") throw Error("the copy " + copied.shown() + " is not whole: " + found);
}

}  // namespace

void back_up(const Database& database, const std::filesystem::path& target) {
    assert(!database.file().empty() && "a database in memory has nothing to copy from");
    const auto file = with_real_folder(target);
    std::filesystem::path unfinished = file;
    unfinished += ".tmp";
    try {
        std::filesystem::remove(unfinished);  // left by an attempt that was cut short
        create_private(unfinished);
        copy(database, unfinished);
        std::filesystem::rename(unfinished, file);
        sync_folder(file.parent_path());
    } catch (const std::exception& error) {
        std::error_code none;
        std::filesystem::remove(unfinished, none);
        throw Error(fmt::format("backing up {} to {}: {}", database.shown(),
                                coilbook::quoted(file.string(), 300), error.what()));
    }
}

void put_in_place(Database& target, const Database& source) {
    if (!target.why_read_only().empty()) throw Error(target.why_read_only());
    Connection from = source.connection()->again();
    from.set_safe();
    copy_pages(from, *target.connection());
}

}  // namespace coilbook::db
