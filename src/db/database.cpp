#include "db/database.h"

#include <fmt/format.h>

#include <cassert>
#include <utility>

#include "base/error.h"
#include "base/text.h"
#include "db/connection.h"
#include "db/looking_through.h"
#include "db/preflight.h"

namespace coilbook::db {
namespace {

// Up to this size SQLite's quick check takes well under a second (0.2 s for 24 MB). Beyond it, it
// would take seconds for every opening; then damage shows where it is read, in a backup's own
// check, and to damage().
constexpr std::uintmax_t looked_through = 64 * 1024 * 1024;

bool is_looked_through(const std::filesystem::path& file) {
    std::error_code none;
    return std::filesystem::file_size(file, none) <= looked_through;
}

// The format of an accepted file. Throws Error for a newer one: in its write-ahead log, so far.
std::int64_t version_in(const Connection& connection, const FileKind& kind) {
    const auto version = connection.number("PRAGMA user_version");
    if (version > kind.newest_version) {
        throw Error(newer_sentence(connection.shown(), version, kind));
    }
    return version;
}

// Reads the file for the first time, so that damage shows now and not in the middle of the work.
void check_inside(const Connection& connection, const std::filesystem::path& file) {
    if (!is_looked_through(file)) return;
    if (const auto found = first_damage(connection); !found.empty()) throw Damage(found);
}

// A log that is there already is not ours to write back unless the file is accepted.
void keep_log(const Connection& connection, bool yes) {
    sqlite3_db_config(connection.handle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, yes ? 1 : 0, nullptr);
}

bool has_log(const std::filesystem::path& file) {
    std::error_code none;
    const auto size = std::filesystem::file_size(file.string() + "-wal", none);
    return !none && size > 0;
}

// The file as SQLite's URI that promises that nobody changes it: only so is a file with write-ahead
// log read where no log can be made. Source: SQLite's documentation, uri.html, "immutable".
std::string immutable_uri(const std::filesystem::path& file) {
    std::string uri = "file:";
    for (const char c : file.string()) {
        if (c == '%' || c == '?' || c == '#') {
            uri += fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
        } else {
            uri += c;
        }
    }
    return uri + "?mode=ro&immutable=1";
}

// Durability: with a write-ahead log and FULL, what is committed survives a power cut.
void set_durable(const Connection& connection) {
    const auto mode = connection.word("PRAGMA journal_mode = WAL");
    if (mode != "wal") {  // a refused change is no error for SQLite
        throw Error(
            fmt::format("{} lies where SQLite cannot keep a write-ahead log (journal mode "
                        "{}); move it to a local disk",
                        connection.shown(), mode));
    }
    connection.command("PRAGMA synchronous = FULL");
    // 64 MiB, used only when needed: with SQLite's own 2 MB an import writes pages again and again.
    connection.command("PRAGMA cache_size = -65536");
}

}  // namespace

Database::Database(std::shared_ptr<Connection> connection, std::filesystem::path file,
                   FileKind kind)
    : connection_(std::move(connection)), file_(std::move(file)), kind_(std::move(kind)) {}

Database Database::open(const std::filesystem::path& given, const FileKind& kind, Looking looking) {
    assert(kind.application_id != 0 && "0 is what files without a mark have");
    const auto file = with_real_folder(given);
    check_outside(file, kind);
    const auto shown = coilbook::quoted(file.string(), 300);
    if (const auto why = why_unwritable(file); !why.empty()) {
        if (has_log(file)) {
            throw Error(why +
                        "; it cannot even be read, since its last changes still stand in "
                        "the log beside it");
        }
        auto reading = std::make_shared<Connection>(immutable_uri(file), unwritable_file, shown);
        check_header(*reading, file, kind);
        reading->set_safe();
        (void)version_in(*reading, kind);
        check_inside(*reading, file);
        Database database(std::move(reading), file, kind);
        database.why_read_only_ = why;
        return database;
    }
    auto connection = std::make_shared<Connection>(file.string(), existing_file, shown);
    check_header(*connection, file, kind);
    std::error_code none;
    if (std::filesystem::exists(file.string() + "-wal", none)) keep_log(*connection, true);
    connection->set_safe();
    const bool is_newest = version_in(*connection, kind) == kind.newest_version;
    const bool may_wait = looking == Looking::meanwhile && is_newest && is_looked_through(file) &&
                          connection->word("PRAGMA journal_mode") == "wal";
    if (!may_wait) check_inside(*connection, file);
    set_durable(*connection);
    Database database(std::move(connection), file, kind);
    if (may_wait) {
        database.connection_->command("PRAGMA query_only = ON");
        database.looking_ = std::make_shared<LookingThrough>(*database.connection_);
    } else {
        keep_log(*database.connection_, false);
    }
    return database;
}

Database Database::open_damaged(const std::filesystem::path& given, const FileKind& kind) {
    const auto file = with_real_folder(given);
    check_outside(file, kind);
    const auto shown = coilbook::quoted(file.string(), 300);
    const bool is_writable = why_unwritable(file).empty();
    auto connection =
        is_writable ? std::make_shared<Connection>(file.string(), existing_file, shown)
                    : std::make_shared<Connection>(immutable_uri(file), unwritable_file, shown);
    check_not_newer(*connection, kind);
    // The log that is there stays, and nothing of it is written back into the damaged file.
    keep_log(*connection, true);
    connection->set_safe();
    connection->command("PRAGMA query_only = ON");
    Database database(std::move(connection), file, kind);
    database.why_read_only_ = fmt::format(
        "{} is damaged and was opened for reading only; keep a copy of it and go back to a backup",
        shown);
    return database;
}

Database Database::create(const std::filesystem::path& given, const FileKind& kind) {
    assert(kind.application_id != 0 && "0 is what files without a mark have");
    const auto file = with_real_folder(given);
    for (const char* ending : {"-wal", "-journal"}) {
        if (std::filesystem::exists(file.string() + ending)) {
            throw Error(
                fmt::format("'{}{}' is left from an earlier {} of that name; move it away "
                            "or choose another name",
                            file.string(), ending, kind.name));
        }
    }
    create_private(file);
    try {
        auto connection = std::make_shared<Connection>(file.string(), existing_file,
                                                       coilbook::quoted(file.string(), 300));
        connection->set_safe();
        // Before there is a log: so the file's own first page has the mark from the start.
        connection->command(fmt::format("PRAGMA application_id = {}", kind.application_id).c_str());
        set_durable(*connection);
        return Database(std::move(connection), file, kind);
    } catch (...) {
        std::filesystem::remove(file);
        throw;
    }
}

Database Database::in_memory(const FileKind& kind) {
    auto connection = std::make_shared<Connection>(
        ":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_MEMORY, "the " + kind.name + " in memory");
    connection->set_safe();
    connection->command(fmt::format("PRAGMA application_id = {}", kind.application_id).c_str());
    return Database(std::move(connection), {}, kind);
}

std::optional<std::string> Database::damage_seen() const {
    if (!looking_) return "";
    if (!looking_->is_over()) return std::nullopt;
    return looking_->found();
}

void Database::wait_until_sound() {
    if (!looking_) return;
    if (const auto& found = looking_->found(); !found.empty()) throw Damage(found);
    looking_.reset();
    connection_->command("PRAGMA query_only = OFF");
    keep_log(*connection_, false);
}

const std::string& Database::shown() const {
    return connection_->shown();
}

int Database::version() const {
    return static_cast<int>(connection_->number("PRAGMA user_version"));
}

std::int64_t Database::data_version() const {
    return connection_->number("PRAGMA data_version");
}

std::vector<std::string> Database::damage() const {
    std::vector<std::string> found = connection_->words("PRAGMA integrity_check(100)");
    if (found.size() == 1 && found.front() == "ok") found.clear();
    for (const auto& table : connection_->words("PRAGMA foreign_key_check")) {
        found.push_back("a row of " + table + " points to one that is not there");
    }
    return found;
}

void Database::wipe_deleted() {
    wait_until_sound();
    // The first column of the answer is 1 where somebody stood in the way.
    if (connection_->number("PRAGMA wal_checkpoint(TRUNCATE)") != 0) {
        throw Error(shown() + " is being read by another program; close it and do that again");
    }
}

}  // namespace coilbook::db
