#include "store/audit.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <optional>
#include <utility>

#include "base/error.h"
#include "base/text.h"
#include "catalog/readings.h"
#include "store/changing_tables.h"
#include "store/conflicts.h"
#include "store/picture_repository.h"
#include "store/rows.h"

namespace coilbook::store {
namespace {

using Sentences = std::vector<std::string>;

constexpr std::size_t most_sentences = 100;

void add(Sentences& wrong, std::string sentence) {
    if (wrong.size() < most_sentences) wrong.push_back(std::move(sentence));
    if (wrong.size() == most_sentences) wrong.back() = "and more";
}

// The column `thing` of every row, in quotes.
Sentences things(const db::Database& database, const std::string& sql) {
    db::Statement list(database, sql + fmt::format(" LIMIT {}", most_sentences));
    return list.all([](const db::Row& row) { return coilbook::quoted(row.text("thing")); });
}

// Fields that do not hold what the history says they last became. The names are the schema's.
Sentences astray(const db::Database& database) {
    Sentences wrong;
    for (const auto& table : changing_tables) {
        for (const auto column : table.columns) {
            const auto sql =
                fmt::format("SELECT t.{1} AS thing FROM {0} AS t WHERE t.{2} IS NOT {3}",
                            table.name, table.key, column, told_by_history_sql(table, column));
            for (const auto& thing : things(database, sql)) {
                add(wrong, fmt::format("{} of {} {} is not what the history says", column,
                                       table.name, thing));
            }
        }
        const auto strangers = fmt::format(
            "SELECT t.{1} AS thing FROM {0} AS t WHERE NOT EXISTS (SELECT 1 FROM change AS c "
            "WHERE c.thing = t.{1} AND c.thing_table = '{0}' AND c.field = '{1}')",
            table.name, table.key);
        for (const auto& thing : things(database, strangers)) {
            add(wrong, fmt::format("the history does not know {} {}", table.name, thing));
        }
        const auto missing = fmt::format(
            "SELECT c.thing FROM change AS c WHERE c.thing_table = '{0}' AND c.field = '{1}' "
            "AND c.became IS NOT NULL AND NOT EXISTS (SELECT 1 FROM {0} AS t WHERE t.{1} = "
            "c.thing) "
            "AND NOT EXISTS (SELECT 1 FROM change AS l WHERE l.thing = c.thing AND l.rid > c.rid "
            "AND l.thing_table = c.thing_table AND l.field = c.field)",
            table.name, table.key);
        for (const auto& thing : things(database, missing)) {
            add(wrong, fmt::format("{} {} is in the history, but not there", table.name, thing));
        }
    }
    for (const auto& thing : things(database, R"sql(
             SELECT s.name AS thing FROM setting AS s
             WHERE s.value IS NOT (SELECT c.became FROM change AS c
                                   WHERE c.thing = s.name AND c.thing_table = 'setting'
                                   ORDER BY c.rid DESC LIMIT 1)
             UNION ALL
             SELECT c.thing FROM change AS c
             WHERE c.thing_table = 'setting' AND c.became IS NOT NULL
               AND c.rid = (SELECT max(l.rid) FROM change AS l
                            WHERE l.thing = c.thing AND l.thing_table = 'setting')
               AND NOT EXISTS (SELECT 1 FROM setting AS s WHERE s.name = c.thing))sql")) {
        add(wrong, fmt::format("the setting {} is not what the history says", thing));
    }
    return wrong;
}

template <int Kg, int M, int S>
double si_of(const Stated<Quantity<Kg, M, S>>& stated) {
    return stated.value.si();
}
double si_of(const Stated<Temperature>& stated) {
    return stated.value.kelvin();
}

// The number that `value` is kept as, or the word.
struct Kept {
    std::optional<double> number;
    std::string word;
};
Kept kept_as(const ReadingValue& value) {
    return std::visit(
        [](const auto& each) -> Kept {
            using Value = std::decay_t<decltype(each)>;
            if constexpr (std::is_same_v<Value, bool>) {
                return {{}, each ? "yes" : "no"};
            } else if constexpr (std::is_same_v<Value, Tint> || std::is_same_v<Value, Taper>) {
                return {{}, std::string(name_of(each))};
            } else {
                return {si_of(each), ""};
            }
        },
        value);
}

// Whether `words`, read with this decimal mark, say what is kept. A billionth is room for another
// way of rounding in another version of the program.
bool says(ReadingField field, const std::string& words, char mark, const Kept& kept) {
    const auto values = read_values(field, words, {mark, {}});
    if (!values || values->size() != 1) return false;
    const auto said = kept_as(values->front());
    if (said.number.has_value() != kept.number.has_value()) return false;
    if (!said.number) return said.word == kept.word;
    return std::abs(*said.number - *kept.number) <= 1e-9 * std::abs(*said.number);
}

// Readings whose value does not come out of the words written down.
Sentences unfounded(const db::Database& database) {
    Sentences wrong;
    db::Statement list(database, R"sql(
        SELECT id, field, as_written, value_si, value_text FROM reading
        WHERE value_si IS NOT NULL OR value_text IS NOT NULL)sql");
    for (auto rows = list.rows(); rows.next();) {
        const auto& row = rows.row();
        const auto field = kept(reading_field_from(row.text("field")), "field");
        const auto words = row.text("as_written");
        const Kept value{row.optional_real("value_si"),
                         row.optional_text("value_text").value_or("")};
        if (says(field, words, '.', value) || says(field, words, ',', value)) continue;
        add(wrong, fmt::format("the value of reading '{}' is not what {} says", row.text("id"),
                               coilbook::quoted(words)));
    }
    return wrong;
}

// What came about where copies were apart, and is for a person to settle: nothing is wrong with the
// catalogue then. Looked for only once there is something that might be one.
class Unsettled {
  public:
    explicit Unsettled(const db::Database& database) : database_(database) {}

    bool has(ConflictKind kind, const std::string& thing, const std::string& field) {
        if (!conflicts_) conflicts_ = Conflicts(database_).list();
        return std::ranges::any_of(*conflicts_, [&](const Conflict& each) {
            return each.kind == kind && each.thing == thing && each.field == field;
        });
    }

  private:
    const db::Database& database_;
    std::optional<std::vector<Conflict>> conflicts_;
};

struct Doubled {
    std::string id, code, field;
};
std::vector<Doubled> doubled(const db::Database& database, const char* sql) {
    db::Statement list(database, sql);
    return list.all([](const db::Row& row) {
        return Doubled{row.text("id"), coilbook::quoted(row.text("code")), row.text("field")};
    });
}

Sentences crowded(const db::Database& database) {
    Sentences wrong;
    for (const auto& coil : things(database, R"sql(
             SELECT coil.code AS thing FROM current_confirmation AS w JOIN coil ON coil.rid = w.coil
             GROUP BY w.coil HAVING count(*) > 1)sql")) {
        add(wrong, "coil " + coil + " has more than one word on what it is");
    }
    Unsettled unsettled(database);
    for (const auto& [id, code, field] : doubled(database, R"sql(
             SELECT coil.id, coil.code, r.field
             FROM open_reading AS r JOIN coil ON coil.rid = r.coil
             WHERE r.field <> 'diameters'
             GROUP BY r.coil, r.field HAVING count(*) > 1)sql")) {
        if (unsettled.has(ConflictKind::reading, id, field)) continue;
        add(wrong, fmt::format("coil {} has two readings of {}, which holds one", code, field));
    }
    return wrong;
}

// Custody is told by the last handover of each thing, so nothing is in two places; but each must
// follow the one before it, unless copies were apart. That a rig has two tips on is no fault of the
// file, and a conflict.
Sentences twice_handed(const db::Database& database) {
    Sentences wrong;
    Unsettled unsettled(database);
    for (const auto& [id, code, field] : doubled(database, R"sql(
             SELECT coalesce(coil.id, rig.id) AS id, coalesce(coil.code, rig.code) AS code,
                    'place' AS field
             FROM current_handover AS h
             LEFT JOIN coil ON coil.rid = h.coil
             LEFT JOIN rig ON rig.rid = h.rig
             WHERE h.turn <> (SELECT count(*) - 1 FROM handover AS o
                              WHERE o.is_undone = 0 AND (o.coil = h.coil OR o.rig = h.rig)))sql")) {
        if (unsettled.has(ConflictKind::place, id, field)) continue;
        add(wrong, code + " was handed over without regard to where it was: say where it is");
    }
    return wrong;
}

// Pictures whose bytes are not those that they were. One that was put away is shown nowhere.
Sentences altered(const db::Database& database) {
    Sentences wrong;
    db::Statement list(database, R"sql(
        SELECT p.id, p.sha256, p.size, coil.code
        FROM current_photograph AS p JOIN coil ON coil.rid = p.coil ORDER BY p.rid)sql");
    PictureRepository pictures(database);
    for (auto rows = list.rows(); rows.next();) {
        const auto& row = rows.row();
        const auto bytes = pictures.bytes_of(row.text("sha256"));
        if (bytes && std::cmp_equal(bytes->size(), row.integer("size"))) continue;
        add(wrong,
            fmt::format("photograph {} of {} is not what it was: the same picture added anew "
                        "brings it back, or put it away",
                        row.text("id"), coilbook::quoted(row.text("code"))));
    }
    return wrong;
}

// Acts stand in the order of their clocks and ids, and no clock is other than it must be.
Sentences misplaced(const db::Database& database) {
    Sentences wrong;
    for (const auto& act : things(database, R"sql(
             SELECT id AS thing
             FROM (SELECT a.id, a.clock_ms, lag(a.clock_ms) OVER in_order AS clock_before,
                          lag(a.id) OVER in_order AS id_before,
                          max(strftime('%s', substr(a.at_utc, 1, 19)) * 1000
                              + substr(a.at_utc, 21, 3),
                              coalesce((SELECT max(b.clock_ms) + 1 FROM seen AS s
                                        JOIN act AS b ON b.rid = s.seen WHERE s.act = a.rid),
                                       0)) AS clock
                   FROM act AS a WINDOW in_order AS (ORDER BY a.rid))
             WHERE clock_ms IS NOT clock OR (clock_before, id_before) >= (clock_ms, id))sql")) {
        add(wrong, "act " + act + " is not where it belongs in the order");
    }
    for (const auto& act : things(database, R"sql(
             SELECT id AS thing FROM act
             WHERE (rid IN (SELECT act FROM head)) = (rid IN (SELECT seen FROM seen)))sql")) {
        add(wrong, "whether anything was built on act " + act + " is not as the history says");
    }
    return wrong;
}

Sentences unsealed(const db::Database& database, Seals& seals) {
    Sentences wrong = misplaced(database);
    for (const auto& broken : seals.broken()) {
        add(wrong, (broken.act.empty() ? "" : "act " + broken.act + ": ") + broken.what_is_wrong);
    }
    return wrong;
}

}  // namespace

std::vector<Inspection> audit(const db::Database& database, Seals& seals,
                              const std::function<void(double)>& reached) {
    struct Part {
        std::string what;
        bool is_damage;
        std::function<Sentences()> look;
    };
    const std::vector<Part> parts{
        {"the file", true, [&] { return database.damage(); }},
        {"the history", true, [&] { return unsealed(database, seals); }},
        {"the rows beside the history", true, [&] { return astray(database); }},
        {"readings as written", false, [&] { return unfounded(database); }},
        {"one of each", false, [&] { return crowded(database); }},
        {"custody", false, [&] { return twice_handed(database); }},
        {"photographs", false, [&] { return altered(database); }},
    };
    const db::Snapshot one_moment(database);
    std::vector<Inspection> found;
    for (const auto& [what, is_damage, look] : parts) {
        Inspection inspection{what, {}, is_damage};
        try {
            inspection.wrong = look();
        } catch (const Error& error) {
            inspection.wrong = {std::string("cannot be read: ") + error.what()};
        }
        found.push_back(std::move(inspection));
        if (reached) {
            reached(static_cast<double>(found.size()) / static_cast<double>(parts.size()));
        }
    }
    return found;
}

}  // namespace coilbook::store
