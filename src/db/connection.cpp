#include "db/connection.h"

#include <SQLiteCpp/Exception.h>

#include <array>
#include <cerrno>
#include <charconv>
#include <filesystem>
#include <limits>
#include <system_error>
#include <utility>

#include "base/broken_off.h"
#include "base/error.h"
#include "base/text.h"
#include "db/database.h"

namespace coilbook::db {
namespace {

constexpr int busy_milliseconds = 5000;

// So many steps of SQLite's machine, some 0.1 ms, lie between two questions whether to go on.
constexpr int steps_between = 2000;

// What SQLite may be asked to handle. Lengths in bytes; far above what a catalogue needs (the
// longest text is a note, the widest table has about 20 columns) and far below what could hurt.
// Source of the idea: SQLite's documentation, security.html; the numbers are ours.
constexpr std::array<std::pair<int, int>, 11> limits{{
    {SQLITE_LIMIT_LENGTH, 1'000'000},
    {SQLITE_LIMIT_SQL_LENGTH, 100'000},
    {SQLITE_LIMIT_COLUMN, 100},
    {SQLITE_LIMIT_EXPR_DEPTH, 50},
    {SQLITE_LIMIT_COMPOUND_SELECT, 30},
    {SQLITE_LIMIT_VDBE_OP, 100'000},
    {SQLITE_LIMIT_FUNCTION_ARG, 20},
    {SQLITE_LIMIT_ATTACHED, 0},
    {SQLITE_LIMIT_LIKE_PATTERN_LENGTH, 1000},
    {SQLITE_LIMIT_VARIABLE_NUMBER, 5000},
    {SQLITE_LIMIT_TRIGGER_DEPTH, 10},
}};

// SQLite asks this about every part of a statement that is being prepared.
int authorize(void* trusted, int action, const char* what, const char* argument, const char*,
              const char*) {
    if (*static_cast<const bool*>(trusted)) return SQLITE_OK;
    switch (action) {
        case SQLITE_TRANSACTION:
        case SQLITE_SAVEPOINT:
        case SQLITE_ATTACH:
        case SQLITE_DETACH:
            return SQLITE_DENY;
        case SQLITE_PRAGMA:  // one without an argument only asks; SQLite's text search does so, too
            // quick_check of one table changes nothing: ALTER TABLE … ADD COLUMN asks for it.
            return argument == nullptr ||
                           (what != nullptr && std::string_view(what) == "quick_check")
                       ? SQLITE_OK
                       : SQLITE_DENY;
        default:  // SQLite has some thirty more, all of them ordinary work
            return SQLITE_OK;
    }
}

int ask_whether_unwanted(void* is_unwanted) {
    return (*static_cast<const std::function<bool()>*>(is_unwanted))() ? 1 : 0;
}

// The bytes that a file beside `file` could still take; as many as there are where it cannot be
// told, as with a database in memory.
std::uintmax_t room_beside(const std::filesystem::path& file) {
    std::error_code unknown;
    const auto room = std::filesystem::space(file.parent_path(), unknown);
    const bool is_told = !unknown && room.capacity > 0;  // some file systems have no size
    return is_told ? room.available : std::numeric_limits<std::uintmax_t>::max();
}

// A connection is used by one thread at a time, and nobody asks how much memory SQLite uses: so it
// needs no locks for either, which are a twentieth of the time of an import.
SQLite::Database opened(const std::string& file, int flags, const std::string& shown) {
    [[maybe_unused]] static const int once = sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
    try {
        return SQLite::Database(file, flags | SQLITE_OPEN_NOMUTEX);
    } catch (const SQLite::Exception& error) {
        const int code = cause_of(error.getErrorCode(), 0, room_beside(file));
        throw Error(in_words(code, shown, shown + ": " + error.what()));
    }
}

}  // namespace

Connection::Connection(const std::string& file, int flags, std::string shown)
    : sqlite_(opened(file, flags, shown)), file_(file), flags_(flags), shown_(std::move(shown)) {
    sqlite3_extended_result_codes(handle(), 1);
    sqlite3_set_authorizer(handle(), &authorize, &trusted_);
    sqlite3_busy_timeout(handle(), busy_milliseconds);
}

void Connection::set_safe() {
    constexpr std::array<std::pair<int, int>, 5> switches{
        {{SQLITE_DBCONFIG_DEFENSIVE, 1},
         {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
         {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
         {SQLITE_DBCONFIG_DQS_DML, 0},
         {SQLITE_DBCONFIG_DQS_DDL, 0}}};
    for (const auto& [which, value] : switches) {
        int now = -1;
        const int code = sqlite3_db_config(handle(), which, value, &now);
        if (code != SQLITE_OK || now != value) fail(code, "securing", shown_);
    }
    for (const auto& [which, value] : limits) sqlite3_limit(handle(), which, value);
    command("PRAGMA cell_size_check = ON");
    command("PRAGMA mmap_size = 0");
    // What a statement may have to take back stands in memory: in a temporary file it was eight
    // pages for each row of an import, and a copy of what the owner alone may read.
    command("PRAGMA temp_store = MEMORY");
    command("PRAGMA secure_delete = ON");  // what is deleted is overwritten with zeros
    command("PRAGMA foreign_keys = ON");
    command("PRAGMA recursive_triggers = ON");  // so that REPLACE, too, fires delete triggers
    if (number("PRAGMA foreign_keys") != 1) throw Error("SQLite was built without foreign keys");
}

void Connection::break_off_when(std::function<bool()> is_unwanted) {
    is_unwanted_ = std::move(is_unwanted);
    const bool asks = is_unwanted_ != nullptr;
    sqlite3_progress_handler(handle(), asks ? steps_between : 0,
                             asks ? &ask_whether_unwanted : nullptr, &is_unwanted_);
}

void Connection::command(const char* sql) const {
    trusted_ = true;
    const int code = sqlite3_exec(handle(), sql, nullptr, nullptr, nullptr);
    trusted_ = false;
    if (code != SQLITE_OK) fail(code, "running", sql);
}

void Connection::script(const std::string& sql) const {
    const int code = sqlite3_exec(handle(), sql.c_str(), nullptr, nullptr, nullptr);
    if (code != SQLITE_OK) fail(code, "running", sql);
}

std::vector<std::string> Connection::words(const char* sql) const {
    std::vector<std::string> found;
    const auto keep = [](void* kept, int, char** values, char**) {
        static_cast<std::vector<std::string>*>(kept)->emplace_back(values[0] ? values[0] : "");
        return 0;
    };
    trusted_ = true;
    const int code = sqlite3_exec(handle(), sql, keep, &found, nullptr);
    trusted_ = false;
    if (code != SQLITE_OK) fail(code, "running", sql);
    return found;
}

std::string Connection::word(const char* sql) const {
    const auto found = words(sql);
    return found.empty() ? std::string() : found.front();
}

std::int64_t Connection::number(const char* sql) const {
    const auto found = word(sql);
    std::int64_t value = 0;
    std::from_chars(found.data(), found.data() + found.size(), value);
    return value;
}

void Connection::end_if_unwanted(int code) const {
    if ((code & 0xFF) == SQLITE_INTERRUPT && is_unwanted_ && is_unwanted_()) throw BrokenOff{};
}

std::string Connection::in_words(int code) const {
    const char* file = sqlite3_db_filename(handle(), "main");
    const int cause = cause_of(code, sqlite3_system_errno(handle()), room_beside(file ? file : ""));
    return db::in_words(cause, shown_, sqlite3_errmsg(handle()));
}

void Connection::fail(int code, const char* step, std::string_view sql) const {
    end_if_unwanted(code);
    const auto sentence = std::string(step) + " " + shown_sql(sql) + ": " + in_words(code);
    if ((code & 0xFF) == SQLITE_CORRUPT) throw Damage(sentence);
    throw Error(sentence);
}

std::string shown_sql(std::string_view sql) {
    std::string line;
    for (const auto piece : pieces(sql, " \t\r\n")) {
        if (!line.empty()) line += ' ';
        line += piece;
        if (line.size() > 200) break;
    }
    return coilbook::quoted(line, 120);
}

int cause_of(int code, int system_error, std::uintmax_t room) {
    constexpr std::uintmax_t enough = 65536;  // the log's index alone takes half of it
    const int kind = code & 0xFF;
    const bool is_reading = code == SQLITE_IOERR_READ || code == SQLITE_IOERR_SHORT_READ;
    if ((kind != SQLITE_IOERR && kind != SQLITE_CANTOPEN) || is_reading) return code;
    const bool is_full = system_error == ENOSPC || system_error == EDQUOT || room < enough;
    return is_full ? SQLITE_FULL : code;
}

std::string in_words(int code, const std::string& shown, const std::string& text) {
    const std::string as_said = " (" + text + ")";
    switch (code & 0xFF) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return shown + " is being written by another program; wait for it or close it" +
                   as_said;
        case SQLITE_FULL:
            return "the disk is full; make room and try again" + as_said;
        case SQLITE_CORRUPT:
            return shown + " is damaged; keep a copy of it and go back to a backup" + as_said;
        case SQLITE_NOTADB:
            return shown + " is not a database that this program can read" + as_said;
        case SQLITE_READONLY:
        case SQLITE_PERM:
            return shown + " or its folder cannot be written; check the permissions" + as_said;
        case SQLITE_CANTOPEN:
            return shown + " or its folder cannot be opened; check the permissions" + as_said;
        case SQLITE_TOOBIG:
            return shown + " holds a text or a statement that is larger than this program takes" +
                   as_said;
        case SQLITE_IOERR:
            return "the disk refused to read or write " + shown + "; check the disk" + as_said;
        default:
            return text;
    }
}

}  // namespace coilbook::db
