#include "store/pruning.h"

#include <fmt/format.h>

#include <array>
#include <string_view>

#include "base/error.h"
#include "db/raw_writing.h"
#include "db/statement.h"
#include "store/seals.h"
#include "store/setting_repository.h"

namespace coilbook::store {
namespace {

// Coils by their row number, and what hangs on them.
constexpr std::string_view choose_coils = R"sql(
    CREATE TEMP TABLE pruned_coil AS
    SELECT c.rid, c.id FROM coil AS c
    WHERE coalesce(
              iif(c.is_undone,
                  (SELECT a.at_utc FROM change AS u JOIN act AS a ON a.rid = u.act
                   WHERE u.thing = c.id AND u.thing_table = 'coil' AND u.field = 'is_undone'
                   ORDER BY u.rid DESC LIMIT 1),
                  c.retired_at_utc), '9999') < (SELECT before FROM pruned_before)
      AND NOT EXISTS (SELECT 1 FROM handover AS h WHERE h.coil = c.rid)
      AND NOT EXISTS (SELECT 1 FROM promise AS p WHERE p.coil = c.rid);)sql";

// Pictures that only photographs show which were put away or undone in time, or which go with
// their coils. A photograph that was put away has a row that says so.
constexpr std::string_view choose_pictures = R"sql(
    CREATE TEMP TABLE pruned_picture AS
    SELECT DISTINCT p.sha256 FROM photograph AS p
    WHERE p.sha256 IS NOT NULL
      AND EXISTS (SELECT 1 FROM picture_piece AS e WHERE e.sha256 = p.sha256)
      AND NOT EXISTS (
          SELECT 1 FROM photograph AS s
          WHERE s.sha256 = p.sha256
            AND s.coil NOT IN (SELECT rid FROM pruned_coil)
            AND coalesce(
                    (SELECT max(a.at_utc) FROM photograph AS later
                     JOIN change AS c ON c.thing = later.id AND c.thing_table = 'photograph'
                                     AND c.field = 'id'
                     JOIN act AS a ON a.rid = c.act
                     WHERE later.puts_away = s.rid AND later.is_undone = 0),
                    iif(s.is_undone,
                        (SELECT a.at_utc FROM change AS u JOIN act AS a ON a.rid = u.act
                         WHERE u.thing = s.id AND u.thing_table = 'photograph'
                           AND u.field = 'is_undone' ORDER BY u.rid DESC LIMIT 1), NULL),
                    '9999') >= (SELECT before FROM pruned_before));)sql";

// The tables whose rows go with a coil.
constexpr std::array<std::string_view, 5> hanging{"reading", "verdict", "confirmation", "condition",
                                                  "photograph"};

class Pruning {
  public:
    Pruning(const db::Database& database, db::Transaction& transaction, Instant before)
        : database_(database), transaction_(transaction) {
        transaction.run_script(
            "CREATE TEMP TABLE pruned_before (before TEXT NOT NULL);"
            "CREATE TEMP TABLE touched (act INTEGER PRIMARY KEY)");
        db::Statement put(database, "INSERT INTO pruned_before VALUES (:before)");
        put.bind(":before", to_text(before)).run(transaction);
        transaction.run_script(choose_coils);
        transaction.run_script(choose_pictures);
    }

    [[nodiscard]] Prunable chosen() const {
        Prunable found;
        db::Statement coils(database_, R"sql(
            SELECT coil.code FROM pruned_coil AS p JOIN coil ON coil.rid = p.rid ORDER BY p.rid)sql");
        found.coils = coils.all([](const db::Row& row) { return row.text("code"); });
        found.confirmed = number(R"sql(
            SELECT count(*) AS n FROM current_confirmation
            WHERE coil IN (SELECT rid FROM pruned_coil))sql");
        db::Statement pictures(database_, "SELECT sha256 FROM pruned_picture ORDER BY sha256");
        found.pictures = pictures.all([](const db::Row& row) { return row.text("sha256"); });
        found.bytes = number(R"sql(
            SELECT coalesce(sum(length(bytes)), 0) AS n FROM picture_piece
            WHERE sha256 IN (SELECT sha256 FROM pruned_picture))sql");
        return found;
    }

    // REQUIRES: db::RawWriting.
    void remove(Seals& seals) {
        // Acts that put a picture away, or took it back, can be undone no longer.
        write(R"sql(
            INSERT OR IGNORE INTO touched
            SELECT c.act FROM photograph AS p
            LEFT JOIN photograph AS later ON later.puts_away = p.rid
            JOIN change AS c ON c.thing IN (p.id, later.id) AND c.thing_table = 'photograph'
            WHERE p.sha256 IN (SELECT sha256 FROM pruned_picture))sql");
        write("DELETE FROM picture_piece WHERE sha256 IN (SELECT sha256 FROM pruned_picture)");
        for (const auto table : hanging) {
            take_history(
                fmt::format("SELECT id FROM {} WHERE coil IN (SELECT rid FROM pruned_coil)", table),
                table);
            write(fmt::format("DELETE FROM {} WHERE coil IN (SELECT rid FROM pruned_coil)", table));
        }
        take_history("SELECT id FROM pruned_coil", "coil");
        write("DELETE FROM coil WHERE rid IN (SELECT rid FROM pruned_coil)");
        db::Statement touched(database_, "SELECT act FROM touched ORDER BY act");
        for (const auto act : touched.all([](const db::Row& row) { return row.integer("act"); })) {
            seals.seal_what_is_left(transaction_, act);
        }
    }

    void clear() {
        transaction_.run_script(
            "DROP TABLE temp.pruned_before; DROP TABLE temp.pruned_coil;"
            "DROP TABLE temp.pruned_picture; DROP TABLE temp.touched");
    }

  private:
    void write(const std::string& sql) { db::Statement(database_, sql).run(transaction_); }
    [[nodiscard]] std::int64_t number(const char* sql) const {
        db::Statement count(database_, sql);
        return count.first([](const db::Row& row) { return row.integer("n"); }).value_or(0);
    }
    void take_history(const std::string& things, std::string_view table) {
        const auto which = fmt::format("thing_table = '{}' AND thing IN ({})", table, things);
        write("INSERT OR IGNORE INTO touched SELECT DISTINCT act FROM change WHERE " + which);
        write("DELETE FROM change WHERE " + which);
    }

    const db::Database& database_;
    db::Transaction& transaction_;
};

// Writes the setting `pruned`, and into the history that it was written: no trigger does.
void tell(const db::Database& database, SettingRepository& settings, Act& act,
          const Prunable& pruned) {
    const auto words =
        fmt::format("{} coils, {} pictures", pruned.coils.size(), pruned.pictures.size());
    db::Statement change(database, R"sql(
        INSERT INTO change (act, thing_table, thing, field, was, became)
        SELECT act, 'setting', 'pruned', 'value',
               (SELECT value FROM setting WHERE name = 'pruned'), :words FROM open_act)sql");
    change.bind(":words", words).run(act.transaction());
    if (const auto put = settings.put(act, "pruned", words); !put) {
        throw Error(to_line(put.error()));
    }
}

}  // namespace

// What it needs of the catalogue's inside.
class PruningAccess {
  public:
    static db::Database& database_of(const Catalogue& catalogue) { return catalogue.database(); }
};

Prunable prunable(const Catalogue& catalogue, Instant before) {
    auto& database = PruningAccess::database_of(catalogue);
    db::Transaction transaction(database);  // of temporary tables only; never committed
    return Pruning(database, transaction, before).chosen();
}

Prunable prune(Catalogue& catalogue, Instant before, const ActNote& note) {
    auto& database = PruningAccess::database_of(catalogue);
    const db::RawWriting raw(database);
    return catalogue.act(note, [&](Act& act) {
        Pruning pruning(database, act.transaction(), before);
        auto pruned = pruning.chosen();
        if (!pruned.is_empty()) {
            pruning.remove(catalogue.seals());
            tell(database, catalogue.settings(), act, pruned);
        }
        pruning.clear();
        return pruned;
    });
}

}  // namespace coilbook::store
