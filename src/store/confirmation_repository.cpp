#include "store/confirmation_repository.h"

#include <cassert>

#include "base/text.h"

namespace coilbook::store {
namespace {

Confirmation confirmation_from(const db::Row& row) {
    return {.id = id_at<Confirmation>(row, "id"),
            .coil = id_at<Coil>(row, "coil_id"),
            .class_name = row.optional_text("class_name"),
            .by = row.text("said_by"),
            .at = instant_at(row, "at_utc"),
            .note = row.text("note")};
}

VerdictSnapshot verdict_from(const db::Row& row) {
    const auto facet = [&](const std::string& column) {
        return JudgedFacet{.name = row.text(column),
                           .probability = row.real(column + "_probability")};
    };
    return {.id = id_at<VerdictSnapshot>(row, "id"),
            .coil = id_at<Coil>(row, "coil_id"),
            .at = instant_at(row, "at_utc"),
            .best_class = facet("best_class"),
            .grain_class = facet("grain_class"),
            .density_grade = facet("density_grade"),
            .line_size = facet("line_size"),
            .family = facet("family"),
            .unlisted_probability = row.real("unlisted_probability"),
            .library = row.text("library"),
            .program = row.text("program")};
}

}  // namespace

ConfirmationRepository::ConfirmationRepository(const db::Database& database)
    : insert_(database, R"sql(
          INSERT INTO confirmation (id, coil, class, verdict, said_by, at_utc, note)
          VALUES (:id, (SELECT rid FROM coil WHERE id = :coil),
                  (SELECT rid FROM reference_class WHERE name = :class),
                  (SELECT rid FROM verdict WHERE id = :verdict), :said_by, :at_utc, :note))sql"),
      insert_verdict_(database, R"sql(
          INSERT INTO verdict (id, coil, at_utc, best_class, best_class_probability, grain_class,
                               grain_class_probability, density_grade, density_grade_probability,
                               line_size, line_size_probability, family, family_probability,
                               unlisted_probability, library, program)
          VALUES (:id, (SELECT rid FROM coil WHERE id = :coil), :at_utc, :best_class,
                  :best_class_probability, :grain_class, :grain_class_probability, :density_grade,
                  :density_grade_probability, :line_size, :line_size_probability, :family,
                  :family_probability, :unlisted_probability, :library, :program))sql"),
      find_class_(database, R"sql(
          SELECT name FROM reference_class 
          WHERE name = :name AND is_retired = 0 AND is_undone = 0)sql"),
      find_current_(database, R"sql(
          SELECT c.*, coil.id AS coil_id, k.name AS class_name
          FROM current_confirmation AS c
          JOIN coil ON coil.rid = c.coil
          JOIN reference_class AS k ON k.rid = c.class
          WHERE coil.id = :coil)sql"),
      list_all_(database, R"sql(
          SELECT c.*, coil.id AS coil_id, k.name AS class_name
          FROM confirmation AS c
          JOIN coil ON coil.rid = c.coil
          LEFT JOIN reference_class AS k ON k.rid = c.class
          WHERE coil.id = :coil AND c.is_undone = 0
          ORDER BY c.rid)sql"),
      list_current_(database, R"sql(
          SELECT c.*, coil.id AS coil_id, k.name AS class_name
          FROM current_confirmation AS c
          JOIN coil ON coil.rid = c.coil
          JOIN reference_class AS k ON k.rid = c.class
          ORDER BY c.rid)sql"),
      find_verdict_(database, R"sql(
          SELECT v.*, coil.id AS coil_id
          FROM confirmation AS c
          JOIN verdict AS v ON v.rid = c.verdict
          JOIN coil ON coil.rid = v.coil
          WHERE c.id = :confirmation AND c.is_undone = 0)sql") {}

Result<void> ConfirmationRepository::add(Act& act, const Confirmation& confirmation,
                                         const std::optional<VerdictSnapshot>& verdict) {
    if (const auto plain = check_plain("note", confirmation.note); !plain) return plain;
    if (confirmation.class_name) {
        const auto& name = *confirmation.class_name;
        const auto found = [&] {
            return find_class_.bind(":name", name)
                .first([](const db::Row&) { return true; })
                .has_value();
        };
        if (!is_plain_text(name) || !found()) {
            return problem("class", coilbook::quoted(name) + " is not a class of this catalogue",
                           "a name that 'coilbook classes' shows");
        }
    } else if (!current_of(confirmation.coil)) {
        return problem("class", "nothing is confirmed of this coil that could be taken back",
                       "a coil that is confirmed");
    }
    std::optional<std::string> verdict_id;
    if (verdict) {
        assert(verdict->coil == confirmation.coil && "a verdict is about the coil confirmed");
        verdict_id = verdict->id.text();
        insert_verdict_.bind(":id", *verdict_id)
            .bind(":coil", verdict->coil.text())
            .bind(":at_utc", to_text(verdict->at))
            .bind(":best_class", verdict->best_class.name)
            .bind(":best_class_probability", verdict->best_class.probability)
            .bind(":grain_class", verdict->grain_class.name)
            .bind(":grain_class_probability", verdict->grain_class.probability)
            .bind(":density_grade", verdict->density_grade.name)
            .bind(":density_grade_probability", verdict->density_grade.probability)
            .bind(":line_size", verdict->line_size.name)
            .bind(":line_size_probability", verdict->line_size.probability)
            .bind(":family", verdict->family.name)
            .bind(":family_probability", verdict->family.probability)
            .bind(":unlisted_probability", verdict->unlisted_probability)
            .bind(":library", verdict->library)
            .bind(":program", verdict->program)
            .run(act.transaction());
    }
    insert_.bind(":id", confirmation.id.text())
        .bind(":coil", confirmation.coil.text())
        .bind(":class", confirmation.class_name)
        .bind(":verdict", verdict_id)
        .bind(":said_by", confirmation.by)
        .bind(":at_utc", to_text(confirmation.at))
        .bind(":note", confirmation.note)
        .run(act.transaction());
    return {};
}

std::optional<Confirmation> ConfirmationRepository::current_of(const Id<Coil>& coil) {
    return find_current_.bind(":coil", coil.text()).first(confirmation_from);
}

std::vector<Confirmation> ConfirmationRepository::all_of(const Id<Coil>& coil) {
    return list_all_.bind(":coil", coil.text()).all(confirmation_from);
}

std::vector<Confirmation> ConfirmationRepository::current() {
    return list_current_.all(confirmation_from);
}

std::optional<VerdictSnapshot> ConfirmationRepository::verdict_of(
    const Id<Confirmation>& confirmation) {
    return find_verdict_.bind(":confirmation", confirmation.text()).first(verdict_from);
}

}  // namespace coilbook::store
