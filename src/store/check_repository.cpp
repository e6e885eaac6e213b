#include "store/check_repository.h"

namespace coilbook::store {
namespace {

InstrumentCheck check_from(const db::Row& row) {
    return {.id = id_at<InstrumentCheck>(row, "id"),
            .kind = row.text("kind"),
            .code = row.text("code"),
            .at = instant_at(row, "checked_at_utc"),
            .as_written = row.text("as_written")};
}

CoatingRecord coating_from(const db::Row& row) {
    return {.id = id_at<CoatingRecord>(row, "id"),
            .code = row.text("code"),
            .at = instant_at(row, "checked_at_utc"),
            .found = {.offset = Length::from_si(row.real("offset_si")),
                      .offset_uncertainty = Length::from_si(row.real("offset_uncertainty_si")),
                      .spread = Length::from_si(row.real("spread_si")),
                      .coils = count_at(row, "coils")}};
}

}  // namespace

CheckRepository::CheckRepository(const db::Database& database)
    : insert_check_(database, R"sql(
          INSERT INTO instrument_check (id, instrument, checked_at_utc, as_written)
          VALUES (:id, (SELECT rid FROM standing_instrument WHERE kind = :kind AND code = :code),
                  :checked_at_utc, :as_written))sql"),
      insert_coating_(database, R"sql(
          INSERT INTO coating_check (id, instrument, checked_at_utc, offset_si,
                                     offset_uncertainty_si, spread_si, coils)
          VALUES (:id, (SELECT rid FROM standing_instrument WHERE kind = 'micrometer' AND code = :code),
                  :checked_at_utc, :offset_si, :offset_uncertainty_si, :spread_si, :coils))sql"),
      list_checks_(database, R"sql(
          SELECT c.id, c.checked_at_utc, c.as_written, i.kind, i.code
          FROM instrument_check AS c
          JOIN standing_instrument AS i ON i.rid = c.instrument
          WHERE c.is_undone = 0
            AND NOT EXISTS (SELECT 1 FROM instrument_check AS later
                            WHERE later.instrument = c.instrument AND later.is_undone = 0
                              AND later.rid > c.rid)
          ORDER BY i.kind, i.code)sql"),
      list_coatings_(database, R"sql(
          SELECT c.id, c.checked_at_utc, c.offset_si, c.offset_uncertainty_si, c.spread_si,
                 c.coils, i.code
          FROM coating_check AS c
          JOIN standing_instrument AS i ON i.rid = c.instrument
          WHERE c.is_undone = 0
            AND NOT EXISTS (SELECT 1 FROM coating_check AS later
                            WHERE later.instrument = c.instrument AND later.is_undone = 0
                              AND later.rid > c.rid)
          ORDER BY i.code)sql") {}

Result<void> CheckRepository::add(Act& act, const InstrumentCheck& check) {
    if (const auto plain = check_plain("reading", check.as_written); !plain) return plain;
    insert_check_.bind(":id", check.id.text())
        .bind(":kind", check.kind)
        .bind(":code", check.code)
        .bind(":checked_at_utc", to_text(check.at))
        .bind(":as_written", check.as_written)
        .run(act.transaction());
    return {};
}

void CheckRepository::add(Act& act, const CoatingRecord& record) {
    insert_coating_.bind(":id", record.id.text())
        .bind(":code", record.code)
        .bind(":checked_at_utc", to_text(record.at))
        .bind(":offset_si", record.found.offset.si())
        .bind(":offset_uncertainty_si", record.found.offset_uncertainty.si())
        .bind(":spread_si", record.found.spread.si())
        .bind(":coils", record.found.coils)
        .run(act.transaction());
}

std::vector<InstrumentCheck> CheckRepository::last_checks() {
    return list_checks_.all(check_from);
}

std::vector<CoatingRecord> CheckRepository::last_coatings() {
    return list_coatings_.all(coating_from);
}

}  // namespace coilbook::store
