#include "db/database.h"

#include <fmt/format.h>

#include <cassert>
#include <utility>

#include "base/error.h"
#include "base/text.h"
#include "db/connection.h"
#include "db/preflight.h"

namespace coilbook::db {
namespace {

// Reads the file for the first time, so that damage shows now and not in the middle of the work.
void check_inside(const Connection& connection, const FileKind& kind) {
    const auto version = connection.number("PRAGMA user_version");
    if (version > kind.newest_version) {  // newer, and so far only in the write-ahead log
        throw Error(newer_sentence(connection.shown(), version, kind));
    }
    const auto found = connection.word("PRAGMA quick_check(1)");
    if (found != "ok") throw Error(in_words(SQLITE_CORRUPT, connection.shown(), found));
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
}

}  // namespace

Database::Database(std::shared_ptr<Connection> connection, std::filesystem::path file,
                   FileKind kind)
    : connection_(std::move(connection)), file_(std::move(file)), kind_(std::move(kind)) {}

Database Database::open(const std::filesystem::path& given, const FileKind& kind) {
    assert(kind.application_id != 0 && "0 is what files without a mark have");
    const auto file = with_real_folder(given);
    check_outside(file, kind);
    auto connection = std::make_shared<Connection>(file.string(), existing_file,
                                                   coilbook::quoted(file.string(), 300));
    check_header(*connection, file, kind);
    // A log that is there already is not ours to write back unless the file is accepted.
    std::error_code none;
    const bool has_log = std::filesystem::exists(file.string() + "-wal", none);
    const auto keep_log = [&](int yes) {
        sqlite3_db_config(connection->handle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, yes, nullptr);
    };
    if (has_log) keep_log(1);
    connection->set_safe();
    check_inside(*connection, kind);
    set_durable(*connection);
    keep_log(0);
    return Database(std::move(connection), file, kind);
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

}  // namespace coilbook::db
