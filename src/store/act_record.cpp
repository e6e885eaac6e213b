#include "store/act_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "base/text.h"
#include "store/changing_tables.h"
#include "store/growing_tables.h"

namespace coilbook::store {
namespace {

// The tables whose rows come to be and change field by field: their rows are in the history.
bool is_told_by_fields(const ChangingTable& table) {
    return growing_table_named(table.name) == nullptr;
}

std::map<std::string, db::Statement, std::less<>> reading_rows(const db::Database& database) {
    std::map<std::string, db::Statement, std::less<>> statements;
    for (const auto& table : growing_tables) {
        const auto sql = cells_sql(table);
        statements.emplace(std::string(table.name),
                           db::Statement(database, fmt::format("SELECT {} FROM {} AS t{} WHERE "
                                                               "t.id = :id",
                                                               sql.cells, table.name, sql.joins)));
    }
    return statements;
}

std::map<std::string, db::Statement, std::less<>> writing_rows(const db::Database& database) {
    std::map<std::string, db::Statement, std::less<>> statements;
    for (const auto& table : growing_tables) {
        std::string names;
        std::string cells;
        for (const auto& column : table.columns) {
            names += fmt::format("{}{}", names.empty() ? "" : ", ", column.name);
            cells += cells.empty() ? "" : ", ";
            cells += column.to.empty() ? fmt::format(":{}", column.name)
                                       : fmt::format("(SELECT rid FROM {} WHERE {} = :{})",
                                                     column.to, key_of(column.to), column.name);
        }
        statements.emplace(std::string(table.name),
                           db::Statement(database, fmt::format("INSERT INTO {} ({}) VALUES ({})",
                                                               table.name, names, cells)));
    }
    return statements;
}

std::map<std::string, db::Statement, std::less<>> writing_born(const db::Database& database) {
    std::map<std::string, db::Statement, std::less<>> statements;
    for (const auto& table : changing_tables) {
        if (!is_told_by_fields(table)) continue;
        std::string names(table.key);
        std::string cells = fmt::format(":{}", table.key);
        for (const auto column : table.columns) {
            if (column == "is_undone") continue;
            names += fmt::format(", {}", column);
            cells += fmt::format(", :{}", column);
        }
        statements.emplace(std::string(table.name),
                           db::Statement(database, fmt::format("INSERT INTO {} ({}) VALUES ({})",
                                                               table.name, names, cells)));
    }
    return statements;
}

std::map<std::string, db::Statement, std::less<>> finding(const db::Database& database) {
    std::map<std::string, db::Statement, std::less<>> statements;
    for (const auto& table : changing_tables) {
        statements.emplace(
            std::string(table.name),
            db::Statement(database, fmt::format("SELECT rid FROM {} WHERE {} = :thing", table.name,
                                                table.key)));
    }
    return statements;
}

// `read` is of reading_rows(). Nothing where there is no row of that id.
std::optional<std::vector<db::Value>> cells_of(db::Statement& read, const GrowingTable& table,
                                               const std::string& id) {
    return read.bind(":id", id).first([&](const db::Row& row) {
        std::vector<db::Value> values;
        for (const auto& column : table.columns) values.push_back(row.value(column.name));
        return values;
    });
}

bool is_there(db::Statement& find) {
    return find.first([](const db::Row&) { return true; }).has_value();
}

bool is_known_field(std::string_view table, std::string_view field) {
    if (table == "setting") return field == "value";
    const auto* known = table_named(table);
    return known != nullptr && (field == known->key ||
                                std::ranges::find(known->columns, field) != known->columns.end());
}

tl::unexpected<Problem> bad_act(const ActRecord& record, const std::string& what) {
    return problem("act", fmt::format("act {} {}", record.note.id.text(), what),
                   "an act as this program writes them");
}

}  // namespace

std::string picture_named_by(const GrownRow& row) {
    if (row.table != "photograph") return {};
    const auto column = std::ranges::find(photograph_cells, "sha256", &GrowingColumn::name);
    const auto at = static_cast<std::size_t>(column - photograph_cells.begin());
    if (at >= row.cells.size()) return {};
    const auto* sha256 = std::get_if<std::string>(&row.cells[at]);
    return sha256 == nullptr ? std::string() : *sha256;
}

RecordedActs::RecordedActs(const db::Database& database)
    : next_(database, R"sql(
          SELECT a.rid, a.id, s.sha256 FROM act AS a LEFT JOIN seal AS s ON s.act = a.rid
          WHERE a.rid > :rid ORDER BY a.rid LIMIT 1)sql"),
      act_(database, R"sql(
          SELECT a.id, a.at_utc, a.who, a.program, a.what, a.why, a.laptop, a.clock_ms,
                 a.seal_form, s.sha256, undone.id AS undoes
          FROM act AS a
          LEFT JOIN seal AS s ON s.act = a.rid
          LEFT JOIN undo AS u ON u.act = a.rid
          LEFT JOIN act AS undone ON undone.rid = u.undoes
          WHERE a.rid = :rid)sql"),
      seen_(database, R"sql(
          SELECT b.id FROM seen AS s JOIN act AS b ON b.rid = s.seen WHERE s.act = :rid
          ORDER BY b.id)sql"),
      changes_(database, R"sql(
          SELECT thing_table, thing, field, was, became FROM field_change WHERE act = :rid
          ORDER BY rid, place)sql"),
      rows_(reading_rows(database)),
      count_pieces_(database, R"sql(
          SELECT count(*) AS n FROM picture_piece WHERE sha256 = :sha256)sql"),
      piece_(database, R"sql(
          SELECT position, bytes FROM picture_piece
          WHERE sha256 = :sha256 AND position > :last_position ORDER BY position LIMIT 1)sql"),
      persons_(database, R"sql(
          SELECT c.id, p.told_at_utc, p.name, p.line_size, p.hand, p.notes
          FROM client_person AS p JOIN client AS c ON c.rid = p.client ORDER BY c.id)sql") {}

Result<std::optional<ActSource::Head>> RecordedActs::next() {
    const auto found = next_.bind(":rid", at_).first([&](const db::Row& row) {
        at_ = row.integer("rid");
        return Head{id_at<Act>(row, "id"), row.optional_text("sha256").value_or("")};
    });
    return found;
}

ActRecord RecordedActs::record() {
    auto found = act_.bind(":rid", at_).first([](const db::Row& row) {
        return ActRecord{.note = {.id = id_at<Act>(row, "id"),
                                  .at = instant_at(row, "at_utc"),
                                  .who = row.text("who"),
                                  .program = row.text("program"),
                                  .what = row.text("what"),
                                  .why = row.text("why"),
                                  .laptop = row.text("laptop")},
                         .undoes = optional_id_at<Act>(row, "undoes"),
                         .clock_ms = row.integer("clock_ms"),
                         .seal_form = count_at(row, "seal_form"),
                         .seal = row.optional_text("sha256").value_or("")};
    });
    if (!found) throw Error("the history lost an act while it was read");
    ActRecord record = std::move(*found);
    record.seen =
        seen_.bind(":rid", at_).all([](const db::Row& row) { return id_at<Act>(row, "id"); });
    record.changes = changes_.bind(":rid", at_).all(field_change_from);
    for (const auto& change : record.changes) {
        const auto* table = growing_table_named(change.table);
        if (table == nullptr || change.field != "id") continue;
        auto cells = cells_of(rows_.find(change.table)->second, *table, change.thing);
        if (cells) record.rows.push_back({change.table, std::move(*cells)});
    }
    pictures_.clear();
    last_position_ = -1;
    for (const auto& row : record.rows) {
        auto sha256 = picture_named_by(row);
        if (sha256.empty()) continue;
        record.pieces += count_pieces_.bind(":sha256", sha256)
                             .first([](const db::Row& counted) { return counted.integer("n"); })
                             .value_or(0);
        pictures_.push_back(std::move(sha256));
    }
    std::ranges::reverse(pictures_);
    return record;
}

Result<std::optional<PicturePiece>> RecordedActs::next_piece() {
    while (!pictures_.empty()) {
        auto piece = piece_.bind(":sha256", pictures_.back())
                         .bind(":last_position", last_position_)
                         .first([&](const db::Row& row) {
                             return PicturePiece{pictures_.back(), row.integer("position"),
                                                 row.bytes("bytes")};
                         });
        if (piece) {
            last_position_ = piece->position;
            return piece;
        }
        pictures_.pop_back();
        last_position_ = -1;
    }
    return std::optional<PicturePiece>();
}

std::vector<PersonRecord> RecordedActs::persons() {
    return persons_.all([](const db::Row& row) {
        return PersonRecord{.client = id_at<Client>(row, "id"),
                            .told_at = row.text("told_at_utc"),
                            .name = row.text("name"),
                            .line_size = row.optional_integer("line_size"),
                            .hand = row.text("hand"),
                            .notes = row.text("notes")};
    });
}

ActWriter::ActWriter(const db::Database& database)
    : find_(database, "SELECT rid, clock_ms FROM act WHERE id = :id"),
      act_(database, R"sql(
          INSERT INTO act (rid, id, at_utc, who, program, what, why, laptop, clock_ms, seal_form)
          VALUES ((SELECT coalesce(max(rid), 0) + 1 FROM act), :id, :at_utc, :who, :program, :what,
                  :why, :laptop, :clock_ms, :seal_form))sql"),
      seen_(database, R"sql(
          INSERT INTO seen (act, seen) VALUES (:act, (SELECT rid FROM act WHERE id = :seen)))sql"),
      undo_(database, R"sql(
          INSERT INTO undo (act, undoes)
          VALUES (:act, (SELECT rid FROM act WHERE id = :undoes)))sql"),
      seal_(database, "INSERT INTO seal (act, sha256) VALUES (:act, :sha256)"),
      change_(database, R"sql(
          INSERT INTO change (act, thing_table, thing, field, was, became)
          VALUES (:act, :thing_table, :thing, :field, :was, :became))sql"),
      born_(writing_born(database)),
      has_(finding(database)),
      rows_(writing_rows(database)),
      there_(reading_rows(database)),
      put_piece_(database, R"sql(
          INSERT INTO picture_piece (sha256, position, bytes) VALUES (:sha256, :position, :bytes)
          ON CONFLICT (sha256, position) DO NOTHING)sql"),
      has_person_(database, R"sql(
          SELECT c.rid, c.forgotten_at_utc, p.told_at_utc, p.name, p.line_size, p.hand, p.notes
          FROM client AS c LEFT JOIN client_person AS p ON p.client = c.rid
          WHERE c.id = :client)sql"),
      put_person_(database, R"sql(
          INSERT INTO client_person (client, name, line_size, hand, notes, told_at_utc)
          VALUES (:client, :name, :line_size, :hand, :notes, :told_at_utc)
          ON CONFLICT (client) DO UPDATE SET
              name = excluded.name, line_size = excluded.line_size, hand = excluded.hand,
              notes = excluded.notes, told_at_utc = excluded.told_at_utc)sql") {}

Result<void> ActWriter::check_clock(const ActRecord& record) {
    std::int64_t least = record.note.at.time_since_epoch().count();
    for (const auto& id : record.seen) {
        const auto clock = find_.bind(":id", id.text()).first([](const db::Row& row) {
            return row.integer("clock_ms");
        });
        if (!clock) {
            return problem("act",
                           fmt::format("act {}, {}, was built on act {}, which is not there",
                                       record.note.id.text(),
                                       coilbook::quoted(record.note.what, 100), id.text()),
                           "first what was written earlier");
        }
        least = std::max(least, *clock + 1);
    }
    if (record.clock_ms != least) return bad_act(record, "is not where it belongs in the order");
    return {};
}

void ActWriter::add_born(db::Transaction& transaction, const std::vector<FieldChange>& changes,
                         std::size_t at) {
    const auto& born = changes[at];
    auto& has = has_.find(born.table)->second;
    if (is_there(has.bind(":thing", born.thing))) return;  // a class of both
    auto& insert = born_.find(born.table)->second;
    const auto* table = table_named(born.table);
    insert.bind(":" + std::string(table->key), born.thing);
    for (const auto column : table->columns) {
        if (column == "is_undone") continue;
        const auto told = std::find_if(
            changes.begin() + static_cast<std::ptrdiff_t>(at), changes.end(), [&](const auto& c) {
                return c.table == born.table && c.thing == born.thing && c.field == column;
            });
        insert.bind(":" + std::string(column), told == changes.end() ? db::Value{} : told->became);
    }
    insert.run(transaction);
}

Result<void> ActWriter::add_changes(db::Transaction& transaction, std::int64_t act,
                                    const ActRecord& record) {
    for (std::size_t at = 0; at < record.changes.size(); ++at) {
        const auto& change = record.changes[at];
        if (!is_known_field(change.table, change.field)) {
            return bad_act(record, "changes " + coilbook::quoted(change.field) + " of " +
                                       coilbook::quoted(change.table) + ", which there is not");
        }
        change_.bind(":act", act)
            .bind(":thing_table", change.table)
            .bind(":thing", change.thing)
            .bind(":field", change.field)
            .bind(":was", change.was)
            .bind(":became", change.became)
            .run(transaction);
        const auto* table = table_named(change.table);
        if (table != nullptr && change.field == table->key && is_told_by_fields(*table) &&
            !std::holds_alternative<std::monostate>(change.became)) {
            add_born(transaction, record.changes, at);
        }
    }
    return {};
}

Result<void> ActWriter::add_row(db::Transaction& transaction, const ActRecord& record,
                                const GrownRow& row) {
    const auto* table = growing_table_named(row.table);
    if (table == nullptr || table->columns.size() != row.cells.size()) {
        return problem("act", coilbook::quoted(row.table) + " has no rows of that form",
                       "a row as this program writes them");
    }
    const auto* id = std::get_if<std::string>(&row.cells.front());
    if (id == nullptr) return bad_act(record, "brings a row without an id");
    if (const auto there = cells_of(there_.find(table->name)->second, *table, *id)) {
        if (*there == row.cells) return {};
        return problem("act",
                       fmt::format("{} {} came in on both sides and says something else on each "
                                   "(there by act {}, {})",
                                   table->name, *id, record.note.id.text(),
                                   coilbook::quoted(record.note.what, 100)),
                       "one of the copies as it was before that: 'coilbook restore' with a backup");
    }
    auto& insert = rows_.find(table->name)->second;
    for (std::size_t at = 0; at < row.cells.size(); ++at) {
        insert.bind(":" + std::string(table->columns[at].name), row.cells[at]);
    }
    insert.run(transaction);
    return {};
}

Result<std::int64_t> ActWriter::add(db::Transaction& transaction, const ActRecord& record) {
    if (const auto fine = check_clock(record); !fine) return tl::unexpected(fine.error());
    act_.bind(":id", record.note.id.text())
        .bind(":at_utc", to_text(record.note.at))
        .bind(":who", record.note.who)
        .bind(":program", record.note.program)
        .bind(":what", record.note.what)
        .bind(":why", record.note.why)
        .bind(":laptop", record.note.laptop)
        .bind(":clock_ms", record.clock_ms)
        .bind(":seal_form", record.seal_form)
        .run(transaction);
    const auto act = find_.bind(":id", record.note.id.text())
                         .first([](const db::Row& row) { return row.integer("rid"); })
                         .value();
    for (const auto& id : record.seen) {
        seen_.bind(":act", act).bind(":seen", id.text()).run(transaction);
    }
    if (record.undoes) {
        undo_.bind(":act", act).bind(":undoes", record.undoes->text()).run(transaction);
    }
    seal_.bind(":act", act).bind(":sha256", record.seal).run(transaction);
    if (const auto fine = add_changes(transaction, act, record); !fine) {
        return tl::unexpected(fine.error());
    }
    for (const auto& row : record.rows) {
        if (const auto fine = add_row(transaction, record, row); !fine) {
            return tl::unexpected(fine.error());
        }
    }
    return act;
}

Result<void> ActWriter::add(db::Transaction& transaction, const ActRecord& record,
                            const PicturePiece& piece) {
    const bool is_named = std::ranges::any_of(
        record.rows, [&](const auto& row) { return picture_named_by(row) == piece.sha256; });
    if (!is_named) return bad_act(record, "brings a picture that no photograph in it names");
    put_piece_.bind(":sha256", piece.sha256)
        .bind(":position", piece.position)
        .bind_bytes(":bytes", piece.bytes)
        .run(transaction);
    return {};
}

bool ActWriter::add(db::Transaction& transaction, const PersonRecord& person) {
    struct Known {
        std::int64_t client;
        bool is_forgotten;
        std::optional<PersonRecord> person;
    };
    const auto known =
        has_person_.bind(":client", person.client.text()).first([&](const db::Row& row) {
            Known found{row.integer("rid"), !row.is_null("forgotten_at_utc"), {}};
            if (!row.is_null("name")) {
                found.person = PersonRecord{.client = person.client,
                                            .told_at = row.text("told_at_utc"),
                                            .name = row.text("name"),
                                            .line_size = row.optional_integer("line_size"),
                                            .hand = row.text("hand"),
                                            .notes = row.text("notes")};
            }
            return found;
        });
    if (!known || known->is_forgotten) return false;
    // Beyond the moment, any order will do that is the same everywhere.
    const auto weight = [](const PersonRecord& each) {
        return std::tie(each.told_at, each.name, each.line_size, each.hand, each.notes);
    };
    if (known->person && weight(*known->person) >= weight(person)) return false;
    put_person_.bind(":client", known->client)
        .bind(":name", person.name)
        .bind(":line_size", person.line_size)
        .bind(":hand", person.hand)
        .bind(":notes", person.notes)
        .bind(":told_at_utc", person.told_at)
        .run(transaction);
    return true;
}

}  // namespace coilbook::store
