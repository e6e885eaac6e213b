#include "store/replay.h"

#include <fmt/format.h>

#include <string>

#include "db/statement.h"
#include "store/changing_tables.h"
#include "store/growing_tables.h"

namespace coilbook::store {
namespace {

// Row numbers on their way from old to new are this much higher, so that they never meet.
constexpr std::int64_t aside = std::int64_t{1} << 40U;

class Replay {
  public:
    Replay(const db::Database& database, db::Transaction& transaction)
        : database_(database), transaction_(transaction) {}

    void run(std::int64_t first_new) {
        first_ = first_displaced(first_new);
        transaction_.run_script(
            "CREATE TEMP TABLE moved (old INTEGER PRIMARY KEY, new INTEGER NOT NULL)");
        if (first_ < first_new) move_acts();
        for (const auto& table : changing_tables) {
            if (first_ < first_new) move_things(table);
            set_fields(table);
        }
        set_settings();
        transaction_.run_script("DROP TABLE moved");
        write("DELETE FROM head");
        write(
            "INSERT INTO head (act) SELECT rid FROM act WHERE rid NOT IN (SELECT seen FROM seen)");
        write(R"sql(
            DELETE FROM client_person
            WHERE client IN (SELECT rid FROM client WHERE forgotten_at_utc IS NOT NULL))sql");
    }

  private:
    // The first act that is not where it belongs, or first_new where those follow all others.
    std::int64_t first_displaced(std::int64_t first_new) {
        db::Statement find(database_, R"sql(
            SELECT min(a.rid) AS rid
            FROM act AS a
            JOIN (SELECT clock_ms, id FROM act WHERE rid >= :first
                  ORDER BY clock_ms, id LIMIT 1) AS b
            WHERE a.rid < :first AND (a.clock_ms, a.id) > (b.clock_ms, b.id))sql");
        const auto found = find.bind(":first", first_new).first([](const db::Row& row) {
            return row.optional_integer("rid");
        });
        return found && *found ? **found : first_new;
    }

    // Runs one statement; each may name :first and :aside.
    void write(const std::string& sql) {
        db::Statement statement(database_, sql);
        if (sql.find(":first") != std::string::npos) statement.bind(":first", first_);
        if (sql.find(":aside") != std::string::npos) statement.bind(":aside", aside);
        statement.run(transaction_);
    }

    void move_acts() {
        write(R"sql(
            INSERT INTO moved (old, new)
            SELECT rid, (SELECT coalesce(max(rid), 0) FROM act WHERE rid < :first)
                        + row_number() OVER (ORDER BY clock_ms, id)
            FROM act WHERE rid >= :first)sql");
        write(
            "UPDATE change SET act = (SELECT new FROM moved WHERE old = act) WHERE act >= :first");
        for (const auto* column_of : {"act.rid", "seal.act", "pruned_act.act"}) {
            const std::string_view both(column_of);
            move(both.substr(0, both.find('.')), both.substr(both.find('.') + 1));
        }
        for (const auto* table_and_other : {"undo.undoes", "seen.seen"}) {
            const std::string_view both(table_and_other);
            const auto table = both.substr(0, both.find('.'));
            const auto other = both.substr(both.find('.') + 1);
            write(fmt::format(
                "UPDATE {0} SET act = :aside + (SELECT new FROM moved WHERE old = act), "
                "{1} = coalesce((SELECT :aside + new FROM moved WHERE old = {1}), {1}) "
                "WHERE act >= :first",
                table, other));
            write(
                fmt::format("UPDATE {0} SET act = act - :aside, "
                            "{1} = iif({1} >= :aside, {1} - :aside, {1}) WHERE act >= :aside",
                            table, other));
        }
        write("DELETE FROM moved");
        write(R"sql(
            INSERT INTO moved (old, new)
            SELECT rid, (SELECT coalesce(max(rid), 0) FROM change WHERE act < :first)
                        + row_number() OVER (ORDER BY act, rid)
            FROM change WHERE act >= :first)sql");
        move("change", "rid");
        write("DELETE FROM moved");
    }

    void move(std::string_view table, std::string_view column) {
        write(
            fmt::format("UPDATE {0} SET {1} = :aside + (SELECT new FROM moved WHERE old = {1}) "
                        "WHERE {1} IN (SELECT old FROM moved)",
                        table, column));
        write(fmt::format("UPDATE {0} SET {1} = {1} - :aside WHERE {1} >= :aside", table, column));
    }

    // Things by the change that says that they came to be; a class may have come to be twice.
    void move_things(const ChangingTable& table) {
        write(fmt::format(R"sql(
            INSERT INTO moved (old, new)
            SELECT t.rid, row_number() OVER (ORDER BY b.first)
            FROM (SELECT thing, min(rid) AS first FROM change
                  WHERE act >= :first AND thing_table = '{0}' AND field = '{1}'
                    AND became IS NOT NULL
                  GROUP BY thing) AS b
            JOIN {0} AS t ON t.{1} = b.thing
            WHERE NOT EXISTS (SELECT 1 FROM change AS e
                              WHERE e.thing = b.thing AND e.thing_table = '{0}'
                                AND e.field = '{1}' AND e.act < :first))sql",
                          table.name, table.key));
        write(
            fmt::format("UPDATE moved SET new = new + (SELECT coalesce(max(rid), 0) FROM {0} "
                        "WHERE rid NOT IN (SELECT old FROM moved))",
                        table.name));
        write("DELETE FROM moved WHERE old = new");
        move(table.name, "rid");
        for (const auto& pointing : growing_tables) {
            for (const auto& column : pointing.columns) {
                if (column.to == table.name) point(pointing.name, column.name);
            }
        }
        if (table.name == "client") move("client_person", "client");
        write("DELETE FROM moved");
    }

    void point(std::string_view table, std::string_view column) {
        write(
            fmt::format("UPDATE {0} SET {1} = (SELECT new FROM moved WHERE old = {1}) "
                        "WHERE {1} IN (SELECT old FROM moved)",
                        table, column));
    }

    void set_fields(const ChangingTable& table) {
        std::string set;
        for (const auto column : table.columns) {
            set += fmt::format("{}{} = {}", set.empty() ? "" : ", ", column,
                               told_by_history_sql(table, column));
        }
        write(
            fmt::format("UPDATE {0} AS t SET {2} WHERE {1} IN (SELECT thing FROM change "
                        "WHERE act >= :first AND thing_table = '{0}')",
                        table.name, table.key, set));
    }

    void set_settings() {
        write(R"sql(
            DELETE FROM setting
            WHERE name IN (SELECT thing FROM change WHERE act >= :first
                           AND thing_table = 'setting'))sql");
        write(R"sql(
            INSERT INTO setting (name, value)
            SELECT thing, became FROM change
            WHERE rid IN (SELECT max(c.rid) FROM change AS c
                          WHERE c.thing_table = 'setting'
                            AND c.thing IN (SELECT thing FROM change WHERE act >= :first
                                            AND thing_table = 'setting')
                          GROUP BY c.thing)
              AND became IS NOT NULL
            ORDER BY rid)sql");
    }

    const db::Database& database_;
    db::Transaction& transaction_;
    std::int64_t first_ = 0;
};

}  // namespace

void replay(const db::Database& database, db::Transaction& transaction, std::int64_t first_new) {
    Replay(database, transaction).run(first_new);
}

}  // namespace coilbook::store
