#include "store/care_repository.h"

#include <algorithm>
#include <utility>

#include "base/text.h"

namespace coilbook::store {
namespace {

Condition condition_from(const db::Row& row) {
    return {.id = id_at<Condition>(row, "id"),
            .coil = id_at<Coil>(row, "coil_id"),
            .what = kept(wear_from(row.text("what")), "what"),
            .is_found = flag_at(row, "is_found"),
            .at = instant_at(row, "at_utc"),
            .by = row.text("by_whom"),
            .note = row.text("note")};
}

Photograph photograph_from(const db::Row& row) {
    return {.id = id_at<Photograph>(row, "id"),
            .coil = id_at<Coil>(row, "coil_id"),
            .sha256 = row.text("sha256"),
            .format = kept(picture_format_from(row.text("format")), "format"),
            .width = count_at(row, "width"),
            .height = count_at(row, "height"),
            .size = row.integer("size"),
            .at = instant_at(row, "at_utc"),
            .by = row.text("by_whom"),
            .note = row.text("note")};
}

}  // namespace

CareRepository::CareRepository(const db::Database& database)
    : insert_condition_(database, R"sql(
          INSERT INTO condition (id, coil, what, is_found, at_utc, by_whom, note)
          VALUES (:id, (SELECT rid FROM coil WHERE id = :coil), :what, :is_found, :at_utc,
                  :by_whom, :note))sql"),
      insert_photograph_(database, R"sql(
          INSERT INTO photograph (id, coil, sha256, format, width, height, size, at_utc, by_whom,
                                  note)
          VALUES (:id, (SELECT rid FROM coil WHERE id = :coil), :sha256, :format, :width, :height,
                  :size, :at_utc, :by_whom, :note))sql"),
      insert_put_away_(database, R"sql(
          INSERT INTO photograph (id, coil, puts_away, at_utc, by_whom, note)
          SELECT :id, p.coil, p.rid, :at_utc, :by_whom, :note
          FROM current_photograph AS p WHERE p.id = :photograph)sql"),
      pictures_(database),
      list_now_(database, R"sql(
          SELECT n.*, coil.id AS coil_id
          FROM current_condition AS n JOIN coil ON coil.rid = n.coil
          WHERE coil.id = :coil
          ORDER BY n.rid)sql"),
      list_all_now_(database, R"sql(
          SELECT n.*, coil.id AS coil_id
          FROM current_condition AS n JOIN coil ON coil.rid = n.coil
          WHERE coil.retired_at_utc IS NULL AND coil.is_undone = 0
          ORDER BY n.rid)sql"),
      list_all_(database, R"sql(
          SELECT n.*, coil.id AS coil_id
          FROM condition AS n JOIN coil ON coil.rid = n.coil
          WHERE coil.id = :coil AND n.is_undone = 0
          ORDER BY n.rid)sql"),
      list_photographs_(database, R"sql(
          SELECT p.*, coil.id AS coil_id
          FROM current_photograph AS p JOIN coil ON coil.rid = p.coil
          WHERE coil.id = :coil
          ORDER BY p.rid DESC)sql") {}

Result<void> CareRepository::add(Act& act, const Condition& condition) {
    if (const auto plain = check_plain("note", condition.note); !plain) return plain;
    if (condition.what == Wear::other && condition.is_found && trimmed(condition.note).empty()) {
        return problem("note", "'other' says nothing by itself", "a note that says what it is");
    }
    if (!condition.is_found) {
        const auto now = conditions_now(condition.coil);
        if (std::ranges::find(now, condition.what, &Condition::what) == now.end()) {
            return problem("condition",
                           "nobody noted " + coilbook::quoted(name_of(condition.what)) + " of it",
                           "a condition that stands");
        }
    }
    insert_condition_.bind(":id", condition.id.text())
        .bind(":coil", condition.coil.text())
        .bind(":what", name_of(condition.what))
        .bind(":is_found", condition.is_found)
        .bind(":at_utc", to_text(condition.at))
        .bind(":by_whom", condition.by)
        .bind(":note", condition.note)
        .run(act.transaction());
    return {};
}

Result<void> CareRepository::add(Act& act, const Photograph& photograph, std::string_view bytes) {
    if (const auto plain = check_plain("note", photograph.note); !plain) return plain;
    const bool is_its_own = std::cmp_equal(bytes.size(), photograph.size) &&
                            digest_of_picture(bytes) == photograph.sha256;
    if (!is_its_own) throw Error("these bytes are not those of the photograph");
    pictures_.keep(act, photograph.sha256, bytes);
    insert_photograph_.bind(":id", photograph.id.text())
        .bind(":coil", photograph.coil.text())
        .bind(":sha256", photograph.sha256)
        .bind(":format", name_of(photograph.format))
        .bind(":width", photograph.width)
        .bind(":height", photograph.height)
        .bind(":size", photograph.size)
        .bind(":at_utc", to_text(photograph.at))
        .bind(":by_whom", photograph.by)
        .bind(":note", photograph.note)
        .run(act.transaction());
    return {};
}

bool CareRepository::bring_back(Act& act, const Photograph& photograph, std::string_view bytes) {
    return pictures_.bring_back(act, photograph.id.text(), photograph.sha256, bytes);
}

Result<void> CareRepository::put_away(Act& act, const PutAway& word) {
    if (const auto plain = check_plain("note", word.note); !plain) return plain;
    const auto rows = insert_put_away_.bind(":id", word.id.text())
                          .bind(":photograph", word.photograph.text())
                          .bind(":at_utc", to_text(word.at))
                          .bind(":by_whom", word.by)
                          .bind(":note", word.note)
                          .run(act.transaction());
    if (rows == 0) {
        return problem("photograph", "that photograph is not shown (any more)",
                       "one of those that are");
    }
    return {};
}

std::vector<Condition> CareRepository::conditions_now(const Id<Coil>& coil) {
    return list_now_.bind(":coil", coil.text()).all(condition_from);
}

std::vector<Condition> CareRepository::conditions_now() {
    return list_all_now_.all(condition_from);
}

std::vector<Condition> CareRepository::all_conditions(const Id<Coil>& coil) {
    return list_all_.bind(":coil", coil.text()).all(condition_from);
}

std::vector<Photograph> CareRepository::photographs(const Id<Coil>& coil) {
    return list_photographs_.bind(":coil", coil.text()).all(photograph_from);
}

std::optional<std::string> CareRepository::picture(std::string_view sha256) {
    return pictures_.bytes_of(sha256);
}

std::string CareRepository::bytes_of(const Photograph& photograph) {
    auto bytes = pictures_.bytes_of(photograph.sha256);
    if (!bytes) {
        throw Error(
            "the catalogue is damaged in a photograph: its bytes are not what they were; the same "
            "picture added anew brings them back");
    }
    return std::move(*bytes);
}

}  // namespace coilbook::store
