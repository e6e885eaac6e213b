#include "store/salvage.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string_view>

#include "base/error.h"
#include "base/text.h"
#include "db/raw_writing.h"
#include "db/table_list.h"
#include "store/changing_tables.h"
#include "store/picture_repository.h"
#include "store/seals.h"
#include "store/setting_repository.h"

namespace coilbook::store {
namespace {

// The history first: of two rows that contradict each other, the one read first stays.
constexpr std::array<std::string_view, 25> tables{
    "act",           "seen",       "undo",          "seal",
    "change",        "coil",       "instrument",    "reference_class",
    "reading",       "verdict",    "confirmation",  "instrument_check",
    "coating_check", "rig",        "boat",          "client",
    "client_person", "outing",     "promise",       "handover",
    "condition",     "photograph", "picture_piece", "setting",
    "pruned_act"};

// What has to be written into the history so that it says what the rows hold: of fields that hold
// something else, of rows that it does not know, of rows that are lost. The names are the schema's.
std::vector<std::string> settling_sql() {
    constexpr auto head = "INSERT INTO change (act, thing_table, thing, field, was, became) ";
    std::vector<std::string> scripts;
    for (const auto& table : changing_tables) {
        scripts.push_back(fmt::format(
            "{2}SELECT (SELECT act FROM open_act), '{0}', t.{1}, '{1}', NULL, t.{1} FROM {0} AS t "
            "WHERE NOT EXISTS (SELECT 1 FROM change AS c WHERE c.thing = t.{1} "
            "AND c.thing_table = '{0}' AND c.field = '{1}')",
            table.name, table.key, head));
        for (const auto column : table.columns) {
            scripts.push_back(fmt::format(
                "{4}SELECT (SELECT act FROM open_act), '{0}', thing, '{2}', was, became FROM "
                "(SELECT t.{1} AS thing, t.{2} AS became, {3} AS was FROM {0} AS t) "
                "WHERE was IS NOT became",
                table.name, table.key, column, told_by_history_sql(table, column), head));
        }
        scripts.push_back(fmt::format(
            "{2}SELECT (SELECT act FROM open_act), '{0}', c.thing, '{1}', c.thing, NULL "
            "FROM change AS c WHERE c.thing_table = '{0}' AND c.field = '{1}' "
            "AND c.became IS NOT NULL "
            "AND NOT EXISTS (SELECT 1 FROM {0} AS t WHERE t.{1} = c.thing) "
            "AND NOT EXISTS (SELECT 1 FROM change AS l WHERE l.thing = c.thing AND l.rid > c.rid "
            "AND l.thing_table = c.thing_table AND l.field = c.field)",
            table.name, table.key, head));
    }
    scripts.push_back(fmt::format(
        "{}SELECT (SELECT act FROM open_act), 'setting', thing, 'value', was, became FROM "
        "(SELECT s.name AS thing, s.value AS became, (SELECT c.became FROM change AS c "
        "WHERE c.thing = s.name AND c.thing_table = 'setting' ORDER BY c.rid DESC LIMIT 1) AS was "
        "FROM setting AS s) WHERE was IS NOT became",
        head));
    scripts.push_back(fmt::format(
        "{}SELECT (SELECT act FROM open_act), 'setting', c.thing, 'value', c.became, NULL "
        "FROM change AS c WHERE c.thing_table = 'setting' AND c.became IS NOT NULL "
        "AND c.rid = (SELECT max(l.rid) FROM change AS l WHERE l.thing = c.thing "
        "AND l.thing_table = 'setting') "
        "AND NOT EXISTS (SELECT 1 FROM setting AS s WHERE s.name = c.thing)",
        head));
    return scripts;
}

std::vector<std::string> settled_in(const db::Database& database) {
    db::Statement list(database, R"sql(
        SELECT thing_table || ' ' || thing ||
               CASE WHEN became IS NULL THEN ' is lost'
                    ELSE ': ' || field || ' is not what the history said' END AS what
        FROM change WHERE act = (SELECT act FROM open_act) ORDER BY rid)sql");
    return list.all([](const db::Row& row) { return row.text("what"); });
}

std::vector<BrokenSeal> broken_in(const db::Database& database, Seals& seals) {
    db::Statement any(database, "SELECT 1 AS found FROM seal LIMIT 1");
    const bool has_seals = any.first([](const db::Row&) { return true; }).has_value();
    return has_seals ? seals.broken() : std::vector<BrokenSeal>{};
}

// What an act was built on, where that was lost, is what stands before it, as in a catalogue that
// was never merged; clocks and heads follow from it.
void mend_lineage(db::Database& database, const std::vector<BrokenSeal>& broken) {
    std::set<std::string> lost;
    for (const auto& each : broken) lost.insert(each.act);
    struct Placed {
        std::int64_t rid;
        std::string id;
        bool has_seen;
        std::int64_t form;
    };
    const db::RawWriting raw(database);
    db::Transaction transaction(database);
    db::Statement list(database, R"sql(
        SELECT rid, id, seal_form, rid IN (SELECT act FROM seen) AS has_seen
        FROM act ORDER BY rid)sql");
    db::Statement see(database, "INSERT INTO seen (act, seen) VALUES (:act, :seen)");
    db::Statement set_clock(database, R"sql(
        UPDATE act SET clock_ms =
            max(coalesce(strftime('%s', substr(at_utc, 1, 19)) * 1000 + substr(at_utc, 21, 3), 0),
                coalesce((SELECT max(b.clock_ms) + 1 FROM seen AS s JOIN act AS b ON b.rid = s.seen
                          WHERE s.act = act.rid), 0))
        WHERE rid = :act)sql");
    std::optional<std::int64_t> before;
    for (const auto& [rid, id, has_seen, form] : list.all([](const db::Row& row) {
             return Placed{row.integer("rid"), row.text("id"), row.integer("has_seen") == 1,
                           row.integer("seal_form")};
         })) {
        if (before && !has_seen && (form == 1 || lost.contains(id))) {
            see.bind(":act", rid).bind(":seen", *before).run(transaction);
        }
        set_clock.bind(":act", rid).run(transaction);
        before = rid;
    }
    transaction.run_script(
        "DELETE FROM head; INSERT INTO head (act) SELECT rid FROM act "
        "WHERE rid NOT IN (SELECT seen FROM seen);");
    transaction.commit();
}

std::string summary(const Salvaged& salvaged, const std::filesystem::path& damaged) {
    std::int64_t rows = 0;
    std::int64_t lost = 0;
    std::int64_t gaps = 0;
    for (const auto& table : salvaged.tables) {
        rows += table.rows;
        lost += table.refused + table.dangling;
        gaps += table.gaps;
    }
    return fmt::format("from {}: {} rows, {} left out, {} gaps, {} acts damaged",
                       coilbook::quoted(damaged.filename().string(), 100), rows, lost, gaps,
                       salvaged.broken.size());
}

}  // namespace

bool Salvaged::is_whole() const {
    return !list_was_lost && lost_pictures == 0 && broken.empty() && settled.empty() &&
           std::ranges::all_of(tables, [](const db::SalvagedTable& table) {
               return table.refused == 0 && table.dangling == 0 && table.gaps == 0;
           });
}

Salvaged salvage(const std::filesystem::path& damaged, const std::filesystem::path& out,
                 const ActNote& note) {
    const auto source = db::Database::open_damaged(damaged, catalogue_kind());
    auto catalogue = Catalogue::create(out);
    try {
        auto& database = catalogue.database();
        std::optional<db::Relisted> relisted;
        if (!db::has_table_list(source)) {
            relisted.emplace(source, database, catalogue.file().string() + ".reading");
        }
        const auto& readable = relisted ? relisted->database() : source;
        Salvaged salvaged{db::salvage(readable, database, tables), {}, {}, relisted.has_value(), 0};
        relisted.reset();
        salvaged.lost_pictures = lost_pictures(database).size();
        salvaged.broken = broken_in(database, catalogue.seals());
        db::empty_table(database, "seal");
        mend_lineage(database, salvaged.broken);
        catalogue.act(note, [&](Act& act) {
            for (const auto& script : settling_sql()) act.transaction().run_script(script);
            salvaged.settled = settled_in(database);
            const auto put = catalogue.settings().put(act, "salvaged", summary(salvaged, damaged));
            if (!put) throw Error(to_line(put.error()));
        });
        // All seals are new, and stand for what is left.
        db::Transaction sealing(database);
        db::Statement(database, R"sql(
            UPDATE pruned_act SET sha256 = (SELECT sha256 FROM seal WHERE act = pruned_act.act))sql")
            .run(sealing);
        sealing.commit();
        return salvaged;
    } catch (...) {
        std::error_code none;
        const auto made = catalogue.file();
        for (const char* ending : {"", "-wal", "-shm"}) {
            std::filesystem::remove(made.string() + ending, none);
        }
        throw;
    }
}

}  // namespace coilbook::store
