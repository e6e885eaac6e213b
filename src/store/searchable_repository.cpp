#include "store/searchable_repository.h"

#include "store/coil_repository.h"
#include "store/reading_repository.h"
#include "store/rows.h"

namespace coilbook::store {
namespace {

SearchableCoil coil_at(const db::Row& row) {
    return {.rid = row.integer("rid"),
            .id = id_at<Coil>(row, "id"),
            .code = row.text("code"),
            .notes = row.text("notes"),
            .class_name = row.optional_text("class_name").value_or(""),
            .readings = {}};
}

}  // namespace

// The readings of one coil come in the order of their fields, which an index has; diameters in the
// order in which they came in. In which order fields come counts for nothing, but for the name of
// the instrument where fields of one kind name several: it is then that of the last field.
SearchableRepository::SearchableRepository(const db::Database& database)
    : mark_(database, R"sql(
          SELECT act, sha256 FROM seal ORDER BY act DESC LIMIT 1)sql"),
      seal_of_(database, "SELECT sha256 FROM seal WHERE act = :act"),
      changed_tables_(database, R"sql(
          SELECT DISTINCT thing_table FROM change WHERE act > :act)sql"),
      changed_coils_(database, R"sql(
          SELECT coil.rid FROM change AS c JOIN coil ON coil.id = c.thing
          WHERE c.act > :act AND c.thing_table = 'coil'
          UNION
          SELECT r.coil FROM change AS c JOIN reading AS r ON r.id = c.thing
          WHERE c.act > :act AND c.thing_table = 'reading'
          UNION
          SELECT w.coil FROM change AS c JOIN confirmation AS w ON w.id = c.thing
          WHERE c.act > :act AND c.thing_table = 'confirmation'
          UNION
          SELECT h.coil FROM change AS c JOIN handover AS h ON h.id = c.thing
          WHERE c.act > :act AND c.thing_table = 'handover' AND h.coil IS NOT NULL
          UNION  -- what is in a rig goes where the rig goes
          SELECT inside.coil FROM change AS c
          JOIN handover AS h ON h.id = c.thing
          JOIN current_handover AS inside ON inside.in_rig = h.rig
          WHERE c.act > :act AND c.thing_table = 'handover'
          LIMIT :most)sql"),
      list_(database, R"sql(
          SELECT coil.rid, coil.id, coil.code, coil.notes, k.name AS class_name
          FROM coil
          LEFT JOIN current_confirmation AS w ON w.coil = coil.rid
          LEFT JOIN reference_class AS k ON k.rid = w.class
          WHERE coil.retired_at_utc IS NULL AND coil.is_undone = 0
          ORDER BY coil.rid)sql"),
      list_readings_(database, R"sql(
          SELECT r.coil, r.field, r.value_si, r.value_text, r.standard_uncertainty_si,
                 coalesce(i.code, '') AS instrument_code
          FROM current_reading AS r
          LEFT JOIN instrument AS i ON i.rid = r.instrument
          ORDER BY r.coil, r.field, r.rid)sql"),
      find_(database, R"sql(
          SELECT coil.rid, coil.id, coil.code, coil.notes, k.name AS class_name
          FROM coil
          LEFT JOIN current_confirmation AS w ON w.coil = coil.rid
          LEFT JOIN reference_class AS k ON k.rid = w.class
          WHERE coil.rid = :rid AND coil.retired_at_utc IS NULL AND coil.is_undone = 0)sql"),
      find_readings_(database, R"sql(
          SELECT r.coil, r.field, r.value_si, r.value_text, r.standard_uncertainty_si,
                 coalesce(i.code, '') AS instrument_code
          FROM current_reading AS r
          LEFT JOIN instrument AS i ON i.rid = r.instrument
          WHERE r.coil = :rid
          ORDER BY r.field, r.rid)sql") {}

std::optional<SearchMark> SearchableRepository::mark() {
    return mark_.first([](const db::Row& row) {
        return SearchMark{row.integer("act"), row.text("sha256")};
    });
}

ChangedCoils SearchableRepository::changed_since(const SearchMark& mark, std::size_t most) {
    const auto seal = seal_of_.bind(":act", mark.act).first([](const db::Row& row) {
        return row.text("sha256");
    });
    if (seal != mark.seal) return {true, {}};
    const auto tables = changed_tables_.bind(":act", mark.act).all([](const db::Row& row) {
        return row.text("thing_table");
    });
    for (const auto& table : tables) {
        // Instruments put all figures right, the others give places their names.
        for (const auto* of_many :
             {"instrument", "instrument_check", "coating_check", "rig", "boat", "client"}) {
            if (table == of_many) return {true, {}};
        }
    }
    ChangedCoils changed;
    changed.coils = changed_coils_.bind(":act", mark.act)
                        .bind(":most", static_cast<std::int64_t>(most) + 1)
                        .all([](const db::Row& row) { return row.integer("rid"); });
    if (changed.coils.size() > most) return {true, {}};
    return changed;
}

void SearchableRepository::each(const std::function<void(const SearchableCoil&)>& use) {
    auto readings = list_readings_.rows();
    bool is_reading = readings.next();
    for (auto rows = list_.rows(); rows.next();) {
        auto coil = coil_at(rows.row());
        while (is_reading && readings.row().integer("coil") <= coil.rid) {
            if (readings.row().integer("coil") == coil.rid) {
                put_reading_of(coil.readings, readings.row());
            }
            is_reading = readings.next();
        }
        use(coil);
    }
}

std::optional<SearchableCoil> SearchableRepository::by_rid(std::int64_t rid) {
    auto coil = find_.bind(":rid", rid).first(coil_at);
    if (!coil) return std::nullopt;
    find_readings_.bind(":rid", rid);
    for (auto rows = find_readings_.rows(); rows.next();)
        put_reading_of(coil->readings, rows.row());
    return coil;
}

}  // namespace coilbook::store
