#include "db/migration.h"

#include <fmt/format.h>

#include <cassert>
#include <map>
#include <string>

#include "base/error.h"
#include "db/backup.h"
#include "db/connection.h"
#include "db/preflight.h"
#include "db/statement.h"
#include "db/transaction.h"

namespace coilbook::db {
namespace {

// While a table is rebuilt, rows point to nothing for a moment; the whole is checked at the end.
// SQLite ignores this switch inside a transaction.
class ForeignKeysOff {
  public:
    explicit ForeignKeysOff(const Connection& connection) : connection_(connection) {
        connection_.command("PRAGMA foreign_keys = OFF");
    }
    ~ForeignKeysOff() {
        sqlite3_db_config(connection_.handle(), SQLITE_DBCONFIG_ENABLE_FKEY, 1, nullptr);
    }
    ForeignKeysOff(const ForeignKeysOff&) = delete;
    ForeignKeysOff& operator=(const ForeignKeysOff&) = delete;

  private:
    const Connection& connection_;
};

bool holds_anything(const Connection& connection) {
    return connection.number("SELECT count(*) FROM sqlite_schema") > 0;
}

void apply(Transaction& transaction, const Migration& step) {
    try {
        transaction.run_script(step.sql);
    } catch (const Error& error) {
        throw error.during(fmt::format("step {} ({})", step.number, step.name));
    }
}

void check_whole(const Connection& connection) {
    const auto dangling = connection.word("PRAGMA foreign_key_check");
    if (!dangling.empty()) {
        throw Error(fmt::format("a row of {} would point to one that is not there", dangling));
    }
    const auto found = connection.word("PRAGMA quick_check(1)");
    if (found != "ok") throw Error("the result is not whole: " + found);
}

// Every table, index, view and trigger with its SQL, but for statistics of SQLite's own.
std::map<std::string, std::string> schema_of(const Database& database) {
    Statement list(database, R"sql(
        SELECT type || ' ' || name AS thing, coalesce(sql, '') AS sql FROM sqlite_schema
        WHERE name NOT LIKE 'sqlite_stat%')sql");
    std::map<std::string, std::string> schema;
    for (auto rows = list.rows(); rows.next();) {
        schema.emplace(rows.row().text("thing"), rows.row().text("sql"));
    }
    return schema;
}

// Throws Error unless `database`, of version `steps.size()`, has exactly what `steps` make.
void check_schema(const Database& database, std::span<const Migration> steps) {
    auto expected_in = Database::in_memory(database.kind());
    Transaction transaction(expected_in);
    for (const auto& step : steps) apply(transaction, step);
    const auto expected = schema_of(expected_in);
    const auto found = schema_of(database);
    if (found == expected) return;
    std::string first = "a table";
    for (const auto& [thing, sql] : found) {
        const auto same = expected.find(thing);
        if (same == expected.end() || same->second != sql) first = thing;
    }
    for (const auto& [thing, sql] : expected) {
        if (!found.contains(thing)) first = thing;
    }
    throw Error(
        fmt::format("{} does not have the tables of a {} of format {} ({} differs): another "
                    "program has changed it; go back to a backup",
                    database.shown(), database.kind().name, steps.size(), first));
}

// The version of a database that has just the tables of that version. Throws Error otherwise.
int checked_version(const Database& database, std::span<const Migration> steps) {
    const Snapshot one_moment(database);  // another program may be migrating it
    const auto version = database.version();
    if (version < 0 || version > static_cast<int>(steps.size())) {
        auto kind = database.kind();
        kind.newest_version = static_cast<int>(steps.size());
        throw Error(newer_sentence(database.shown(), version, kind));
    }
    check_schema(database, steps.first(static_cast<std::size_t>(version)));
    return version;
}

Migrated migrate_under_lock(Database& database, std::span<const Migration> steps,
                            const MigrationCare& care) {
    const auto& connection = *database.connection();
    const auto newest = static_cast<int>(steps.size());
    const ForeignKeysOff keys_off(connection);
    Transaction transaction(database);
    // Looked at again: another program may have been quicker.
    const int from = checked_version(database, steps);
    Migrated done{.from = from, .to = from, .backup = {}};
    if (from == newest) return done;
    if (!database.file().empty() && holds_anything(connection)) {
        done.backup =
            care.backup_to
                ? care.backup_to(from)
                : std::filesystem::path(fmt::format("{}.v{}.bak", database.file().string(), from));
        back_up(database, *done.backup);
    }
    for (const auto& step : steps.subspan(static_cast<std::size_t>(from))) apply(transaction, step);
    if (care.finish) care.finish(transaction);
    check_whole(connection);
    connection.command(fmt::format("PRAGMA user_version = {}", newest).c_str());
    transaction.commit();
    done.to = newest;
    return done;
}

}  // namespace

Migrated migrate(Database& database, std::span<const Migration> steps, const MigrationCare& care) {
    for (std::size_t at = 0; at < steps.size(); ++at) {
        assert(steps[at].number == static_cast<int>(at) + 1 && "steps are numbered without a gap");
    }
    try {
        const auto version = checked_version(database, steps);
        if (version == static_cast<int>(steps.size())) {
            return {.from = version, .to = version, .backup = {}};
        }
        return migrate_under_lock(database, steps, care);
    } catch (const Error& error) {
        throw error.during("bringing " + database.shown() + " up to date");
    }
}

}  // namespace coilbook::db
