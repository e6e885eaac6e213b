#include "store/rig_repository.h"

#include "base/text.h"
#include "catalog/coil.h"

namespace coilbook::store {
namespace {

Rig rig_from(const db::Row& row) {
    std::optional<LineSize> size;
    if (const auto number = row.optional_integer("line_size")) {
        size = LineSize{static_cast<int>(*number)};
    }
    return {.id = id_at<Rig>(row, "id"),
            .code = row.text("code"),
            .name = row.text("name"),
            .line_size = size,
            .rod = row.text("rod"),
            .reel = row.text("reel"),
            .backing = row.text("backing"),
            .running_line = row.text("running_line"),
            .notes = row.text("notes"),
            .made_at = instant_at(row, "made_at_utc"),
            .is_retired = !row.is_null("retired_at_utc")};
}

db::Statement& bind_words(db::Statement& statement, const Rig& rig) {
    std::optional<std::int64_t> size;
    if (rig.line_size) size = rig.line_size->number;
    return statement.bind(":id", rig.id.text())
        .bind(":code", rig.code)
        .bind(":name", rig.name)
        .bind(":line_size", size)
        .bind(":rod", rig.rod)
        .bind(":reel", rig.reel)
        .bind(":backing", rig.backing)
        .bind(":running_line", rig.running_line)
        .bind(":notes", rig.notes);
}

}  // namespace

RigRepository::RigRepository(const db::Database& database)
    : insert_(database, R"sql(
          INSERT INTO rig (id, code, name, line_size, rod, reel, backing, running_line, notes,
                           made_at_utc)
          VALUES (:id, :code, :name, :line_size, :rod, :reel, :backing, :running_line, :notes,
                  :made_at_utc))sql"),
      update_(database, R"sql(
          UPDATE rig SET
              code = :code,
              name = :name,
              line_size = :line_size,
              rod = :rod,
              reel = :reel,
              backing = :backing,
              running_line = :running_line,
              notes = :notes,
              retired_at_utc = CASE WHEN :is_retired THEN coalesce(retired_at_utc, :now_utc) END
          WHERE id = :id AND is_undone = 0)sql"),
      find_by_code_(database, R"sql(
          SELECT * FROM rig WHERE code = :code AND retired_at_utc IS NULL AND is_undone = 0
          ORDER BY rid LIMIT 1)sql"),
      find_by_id_(database, "SELECT * FROM rig WHERE id = :id AND is_undone = 0"),
      list_(database, R"sql(
          SELECT * FROM rig WHERE retired_at_utc IS NULL AND is_undone = 0 ORDER BY code, rid)sql"),
      taken_(database, R"sql(
          SELECT 1 AS found FROM coil
          WHERE code = :code AND retired_at_utc IS NULL AND is_undone = 0
          UNION ALL
          SELECT 1 FROM rig
          WHERE code = :code AND id <> :id AND retired_at_utc IS NULL AND is_undone = 0)sql") {}

Result<void> RigRepository::check(const Rig& rig) {
    const auto code = coil_code_from(rig.code);
    if (!code) return tl::unexpected(code.error());
    for (const auto* words :
         {&rig.name, &rig.rod, &rig.reel, &rig.backing, &rig.running_line, &rig.notes}) {
        if (const auto plain = check_plain("rig", *words); !plain) return plain;
    }
    const auto is_there = [](const db::Row&) { return true; };
    if (!rig.is_retired &&
        taken_.bind(":code", rig.code).bind(":id", rig.id.text()).first(is_there)) {
        return problem("code", coilbook::quoted(rig.code) + " is the code of another thing",
                       "a code that nothing else has");
    }
    return {};
}

Result<void> RigRepository::add(Act& act, const Rig& rig) {
    if (const auto fine = check(rig); !fine) return fine;
    bind_words(insert_, rig).bind(":made_at_utc", to_text(rig.made_at)).run(act.transaction());
    return {};
}

Result<void> RigRepository::change(Act& act, const Rig& rig) {
    if (!by_id(rig.id)) return problem("rig", "there is no such rig", "one of this catalogue");
    if (const auto fine = check(rig); !fine) return fine;
    bind_words(update_, rig)
        .bind(":is_retired", rig.is_retired)
        .bind(":now_utc", to_text(act.note().at))
        .run(act.transaction());
    return {};
}

std::optional<Rig> RigRepository::by_code(std::string_view code) {
    if (!is_plain_text(code)) return std::nullopt;
    return find_by_code_.bind(":code", code).first(rig_from);
}

std::optional<Rig> RigRepository::by_id(const Id<Rig>& id) {
    return find_by_id_.bind(":id", id.text()).first(rig_from);
}

std::vector<Rig> RigRepository::list() {
    return list_.all(rig_from);
}

}  // namespace coilbook::store
