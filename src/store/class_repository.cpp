#include "store/class_repository.h"

#include <algorithm>
#include <string>
#include <utility>

#include "base/text.h"
#include "quantity/parse.h"
#include "quantity/print.h"

namespace coilbook::store {
namespace {

template <class Facet>
std::optional<std::string> name_if(const std::optional<Facet>& facet) {
    if (!facet) return std::nullopt;
    return name_of(*facet);
}

// The facet that `column` names, read by `from_name`; nothing where it is NULL.
template <class FromName>
auto facet_at(const db::Row& row, std::string_view column, FromName from_name)
    -> std::optional<typename std::invoke_result_t<FromName, std::string_view>::value_type> {
    const auto name = row.optional_text(column);
    if (!name) return std::nullopt;
    return kept(from_name(std::string_view(*name)), column);
}

// "3.048 4.572": every length in metres, exactly.
std::string lengths_text(const std::vector<Length>& lengths) {
    std::string text;
    for (const auto length : lengths) text += (text.empty() ? "" : " ") + exact(length.in(metre));
    return text;
}

std::optional<UsualLengths> usual_from(const db::Row& row) {
    const auto text = row.optional_text("usual_lengths_m");
    const auto sd = row.optional_real("usual_relative_sd");
    if (!text || !sd) return std::nullopt;
    UsualLengths usual{.lengths = {}, .relative_sd = *sd};
    for (const auto piece : pieces(*text, " ")) {
        usual.lengths.push_back(kept(parse_number(piece), "usual_lengths_m") * metre);
    }
    return usual;
}

ReferenceClass class_from(const db::Row& row) {
    return {.name = row.text("name"),
            .family = facet_at(row, "family", family_from),
            .grain_class = facet_at(row, "grain_class", grain_class_from),
            .density_grade = facet_at(row, "density_grade", density_grade_from),
            .line_size = facet_at(row, "line_size", line_size_from),
            .weight = row.real("weight"),
            .line = {.ln_grains_per_foot_mean = row.real("ln_grains_per_foot_mean"),
                     .ln_grains_per_foot_sd = row.real("ln_grains_per_foot_sd"),
                     .ln_density_mean = row.real("ln_density_mean"),
                     .ln_density_sd = row.real("ln_density_sd"),
                     .correlation = row.real("correlation")},
            .tapered = row.real("tapered"),
            .tints = {row.real("tint_clear"), row.real("tint_pale"), row.real("tint_brown"),
                      row.real("tint_dark"), row.real("tint_black")},
            .usual = usual_from(row),
            .basis = row.text("basis"),
            .confirmed = count_at(row, "confirmed")};
}

}  // namespace

ClassRepository::ClassRepository(const db::Database& database)
    : upsert_(database, R"sql(
          INSERT INTO reference_class (
              name, position, is_retired, family, grain_class, density_grade, line_size, weight,
              ln_grains_per_foot_mean, ln_grains_per_foot_sd, ln_density_mean, ln_density_sd,
              correlation, tapered, tint_clear, tint_pale, tint_brown, tint_dark, tint_black,
              usual_lengths_m, usual_relative_sd, basis)
          VALUES (
              :name, :position, 0, :family, :grain_class, :density_grade, :line_size, :weight,
              :ln_grains_per_foot_mean, :ln_grains_per_foot_sd, :ln_density_mean, :ln_density_sd,
              :correlation, :tapered, :tint_clear, :tint_pale, :tint_brown, :tint_dark, :tint_black,
              :usual_lengths_m, :usual_relative_sd, :basis)
          ON CONFLICT (name) DO UPDATE SET
              position = excluded.position,
              is_retired = 0,
              is_undone = 0,
              family = excluded.family,
              grain_class = excluded.grain_class,
              density_grade = excluded.density_grade,
              line_size = excluded.line_size,
              weight = excluded.weight,
              ln_grains_per_foot_mean = excluded.ln_grains_per_foot_mean,
              ln_grains_per_foot_sd = excluded.ln_grains_per_foot_sd,
              ln_density_mean = excluded.ln_density_mean,
              ln_density_sd = excluded.ln_density_sd,
              correlation = excluded.correlation,
              tapered = excluded.tapered,
              tint_clear = excluded.tint_clear,
              tint_pale = excluded.tint_pale,
              tint_brown = excluded.tint_brown,
              tint_dark = excluded.tint_dark,
              tint_black = excluded.tint_black,
              usual_lengths_m = excluded.usual_lengths_m,
              usual_relative_sd = excluded.usual_relative_sd,
              basis = excluded.basis)sql"),
      retire_(database, R"sql(
          UPDATE reference_class SET is_retired = 1 WHERE name = :name)sql"),
      list_(database, R"sql(
          SELECT k.*,
                 (SELECT count(*) FROM current_confirmation AS c WHERE c.class = k.rid) AS confirmed
          FROM reference_class AS k
          WHERE k.is_retired = 0 AND k.is_undone = 0
          ORDER BY k.position, k.rid)sql"),
      find_(database, R"sql(
          SELECT name FROM reference_class 
          WHERE name = :name AND is_retired = 0 AND is_undone = 0)sql"),
      is_known_(database, "SELECT name FROM reference_class WHERE name = :name"),
      was_retired_(database, R"sql(
          SELECT became FROM change
          WHERE thing = :name AND thing_table = 'reference_class' AND field = 'is_retired'
          ORDER BY rid DESC LIMIT 1)sql") {}

void ClassRepository::put(Act& act, const ReferenceClass& each, int position) {
    std::optional<std::string> lengths;
    std::optional<double> relative_sd;
    if (each.usual) {
        lengths = lengths_text(each.usual->lengths);
        relative_sd = each.usual->relative_sd;
    }
    upsert_.bind(":name", each.name)
        .bind(":position", position)
        .bind(":family", name_if(each.family))
        .bind(":grain_class", name_if(each.grain_class))
        .bind(":density_grade", name_if(each.density_grade))
        .bind(":line_size", name_if(each.line_size))
        .bind(":weight", each.weight)
        .bind(":ln_grains_per_foot_mean", each.line.ln_grains_per_foot_mean)
        .bind(":ln_grains_per_foot_sd", each.line.ln_grains_per_foot_sd)
        .bind(":ln_density_mean", each.line.ln_density_mean)
        .bind(":ln_density_sd", each.line.ln_density_sd)
        .bind(":correlation", each.line.correlation)
        .bind(":tapered", each.tapered)
        .bind(":tint_clear", each.tints[0])
        .bind(":tint_pale", each.tints[1])
        .bind(":tint_brown", each.tints[2])
        .bind(":tint_dark", each.tints[3])
        .bind(":tint_black", each.tints[4])
        .bind(":usual_lengths_m", lengths)
        .bind(":usual_relative_sd", relative_sd)
        .bind(":basis", each.basis)
        .run(act.transaction());
}

void ClassRepository::put_library(Act& act, const ReferenceLibrary& new_library) {
    const auto is_kept = [&](const std::string& name) {
        return std::ranges::find(new_library, name, &ReferenceClass::name) != new_library.end();
    };
    for (const auto& old : library()) {
        if (!is_kept(old.name)) retire_.bind(":name", old.name).run(act.transaction());
    }
    int position = 0;
    for (const auto& each : new_library) put(act, each, ++position);
}

int ClassRepository::put_missing(Act& act, const ReferenceLibrary& library) {
    int put_in = 0;
    int position = 0;
    for (const auto& each : library) {
        ++position;
        if (is_known(each.name)) continue;
        const auto was_retired =
            was_retired_.bind(":name", each.name).first([](const db::Row& row) {
                return row.value("became") == db::Value{std::int64_t{1}};
            });
        put(act, each, position);
        if (was_retired == true) retire_.bind(":name", each.name).run(act.transaction());
        ++put_in;
    }
    return put_in;
}

ReferenceLibrary ClassRepository::library() {
    return list_.all(class_from);
}

bool ClassRepository::has(std::string_view name) {
    if (!is_plain_text(name)) return false;
    return find_.bind(":name", name).first([](const db::Row&) { return true; }).has_value();
}

bool ClassRepository::is_known(std::string_view name) {
    if (!is_plain_text(name)) return false;
    return is_known_.bind(":name", name).first([](const db::Row&) { return true; }).has_value();
}

}  // namespace coilbook::store
