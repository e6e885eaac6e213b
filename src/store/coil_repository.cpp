#include "store/coil_repository.h"

#include "base/text.h"

namespace coilbook::store {

CoilRepository::CoilRepository(const db::Database& database)
    : insert_(database, R"sql(
          INSERT INTO coil (id, code, notes, made_at_utc, retired_at_utc)
          VALUES (:id, :code, :notes, :made_at_utc, :retired_at_utc))sql"),
      update_(database, R"sql(
          UPDATE coil SET
              code = :code,
              notes = :notes,
              retired_at_utc = CASE WHEN :is_retired THEN coalesce(retired_at_utc, :now_utc) END
          WHERE id = :id AND is_undone = 0)sql"),
      find_by_id_(database, R"sql(
          SELECT id, code, notes, made_at_utc, retired_at_utc FROM coil
          WHERE id = :id AND is_undone = 0)sql"),
      find_by_code_(database, R"sql(
          SELECT id, code, notes, made_at_utc, retired_at_utc FROM coil
          WHERE code = :code AND retired_at_utc IS NULL AND is_undone = 0
          ORDER BY rid LIMIT 1)sql"),
      count_with_code_(database, R"sql(
          SELECT (SELECT count(*) FROM coil
                  WHERE code = :code AND retired_at_utc IS NULL AND is_undone = 0)
                 + (SELECT count(*) FROM rig
                    WHERE code = :code AND retired_at_utc IS NULL AND is_undone = 0) AS things)sql"),
      // The page is cut out first, so that only its coils are counted and looked up.
      list_(database, R"sql(
          SELECT page.*,
                 (SELECT k.name FROM current_confirmation AS c
                  JOIN reference_class AS k ON k.rid = c.class
                  WHERE c.coil = page.rid) AS confirmed_class,
                 (SELECT count(*) FROM current_reading AS r WHERE r.coil = page.rid) AS readings
          FROM (SELECT * FROM coil
                WHERE (retired_at_utc IS NULL OR :with_retired) AND is_undone = 0
                ORDER BY code, retired_at_utc IS NOT NULL, rid
                LIMIT :limit OFFSET :offset) AS page
          ORDER BY code, retired_at_utc IS NOT NULL, rid)sql"),
      count_(database, R"sql(
          SELECT count(*) AS coils FROM coil
          WHERE (retired_at_utc IS NULL OR :with_retired) AND is_undone = 0)sql"),
      codes_(database, R"sql(
          SELECT code FROM coil WHERE retired_at_utc IS NULL AND is_undone = 0 ORDER BY code)sql"),
      ever_had_(database, R"sql(
          SELECT EXISTS (SELECT 1 FROM change
                         WHERE thing_table IN ('coil', 'rig', 'client') AND field = 'code'
                           AND :code IN (was, became))
              OR EXISTS (SELECT 1 FROM coil WHERE code = :code) AS found)sql") {}

Result<void> CoilRepository::check(const Coil& coil) {
    const auto code = coil_code_from(coil.code);
    if (!code) return tl::unexpected(code.error());
    if (*code != coil.code) {
        return problem("code", coilbook::quoted(coil.code) + " has blanks around it", *code);
    }
    if (const auto plain = check_plain("notes", coil.notes); !plain) return plain;
    if (coil.is_retired) return {};
    const auto now = by_id(coil.id);  // which may share its code since a merge, and may go on
    if (now && now->code == coil.code && !now->is_retired) return {};
    if (const auto other = by_code(coil.code); other && other->id != coil.id) {
        return problem("code", coilbook::quoted(coil.code) + " is the code of another coil",
                       "a code that no coil in the bin has");
    }
    return {};
}

Result<void> CoilRepository::add(Act& act, const Coil& coil) {
    if (const auto fine = check(coil); !fine) return fine;
    std::optional<std::string> retired;
    if (coil.is_retired) retired = to_text(act.note().at);
    insert_.bind(":id", coil.id.text())
        .bind(":code", coil.code)
        .bind(":notes", coil.notes)
        .bind(":made_at_utc", to_text(coil.made_at))
        .bind(":retired_at_utc", retired)
        .run(act.transaction());
    return {};
}

Result<void> CoilRepository::change(Act& act, const Coil& coil) {
    if (!by_id(coil.id)) {
        return problem("coil", "no coil has the id " + coil.id.text(), "one of this catalogue");
    }
    if (const auto fine = check(coil); !fine) return fine;
    update_.bind(":id", coil.id.text())
        .bind(":code", coil.code)
        .bind(":notes", coil.notes)
        .bind(":is_retired", coil.is_retired)
        .bind(":now_utc", to_text(act.note().at))
        .run(act.transaction());
    return {};
}

std::optional<Coil> CoilRepository::by_id(const Id<Coil>& id) {
    return find_by_id_.bind(":id", id.text()).first(coil_from);
}

std::optional<Coil> CoilRepository::by_code(std::string_view code) {
    if (!is_plain_text(code)) return std::nullopt;
    return find_by_code_.bind(":code", code).first(coil_from);
}

int CoilRepository::things_with(std::string_view code) {
    if (!is_plain_text(code)) return 0;
    return count_with_code_.bind(":code", code)
        .first([](const db::Row& row) { return count_at(row, "things"); })
        .value_or(0);
}

std::vector<CoilListing> CoilRepository::list(Page page, bool with_retired) {
    return list_.bind(":limit", page.limit)
        .bind(":offset", page.offset)
        .bind(":with_retired", with_retired)
        .all([](const db::Row& row) {
            return CoilListing{.coil = coil_from(row),
                               .confirmed_class = row.optional_text("confirmed_class"),
                               .readings = count_at(row, "readings")};
        });
}

int CoilRepository::count(bool with_retired) {
    return count_.bind(":with_retired", with_retired)
        .first([](const db::Row& row) { return count_at(row, "coils"); })
        .value_or(0);
}

std::vector<std::string> CoilRepository::codes() {
    return codes_.all([](const db::Row& row) { return row.text("code"); });
}

bool CoilRepository::ever_had(std::string_view code) {
    return ever_had_.bind(":code", code)
        .first([](const db::Row& row) { return flag_at(row, "found"); })
        .value_or(false);
}

Coil coil_from(const db::Row& row) {
    return {.id = id_at<Coil>(row, "id"),
            .code = row.text("code"),
            .notes = row.text("notes"),
            .made_at = instant_at(row, "made_at_utc"),
            .is_retired = !row.is_null("retired_at_utc")};
}

}  // namespace coilbook::store
