#include "store/kinds.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cctype>

#include "base/error.h"
#include "base/text.h"
#include "db/guards_aside.h"
#include "store/outfit_kinds.h"

namespace coilbook::store {
namespace {

using enum ColumnType;

constexpr KindColumn id_column{"id", id, true, ColumnUse::identity};
constexpr KindColumn coil_code{"coil_code", text, true, ColumnUse::reference};

constexpr std::array setting_columns{KindColumn{"name", text}, KindColumn{"value", text}};

constexpr std::array class_columns{
    KindColumn{"class", text},
    KindColumn{"position", count},
    KindColumn{"retired", flag},
    KindColumn{"family", text, true},
    KindColumn{"grain_class", text, true},
    KindColumn{"density_grade", text, true},
    KindColumn{"line_size", text, true},
    KindColumn{"weight", number},
    KindColumn{"ln_grains_per_foot_mean", number},
    KindColumn{"ln_grains_per_foot_sd", number},
    KindColumn{"ln_density_mean", number},
    KindColumn{"ln_density_sd", number},
    KindColumn{"correlation", number},
    KindColumn{"tapered", number},
    KindColumn{"tint_clear", number},
    KindColumn{"tint_pale", number},
    KindColumn{"tint_brown", number},
    KindColumn{"tint_dark", number},
    KindColumn{"tint_black", number},
    KindColumn{"usual_lengths_m", text, true},
    KindColumn{"usual_relative_sd", number, true},
    KindColumn{"basis", text},
};

constexpr std::array instrument_columns{
    id_column,
    KindColumn{"kind", text},
    KindColumn{"code", text},
    KindColumn{"resolution_si", number},
    KindColumn{"limit_of_error_si", number},
    KindColumn{"repeatability_si", number},
    KindColumn{"offset_si", number},
    KindColumn{"offset_uncertainty_si", number},
};

constexpr std::array check_columns{
    id_column,
    KindColumn{"instrument_kind", text},
    KindColumn{"instrument", text},
    KindColumn{"checked_at", moment},
    KindColumn{"as_written", text},
};

constexpr std::array coating_columns{
    id_column,
    KindColumn{"micrometer", text},
    KindColumn{"checked_at", moment},
    KindColumn{"offset_si", number},
    KindColumn{"offset_uncertainty_si", number},
    KindColumn{"spread_si", number},
    KindColumn{"coils", count},
};

constexpr std::array coil_columns{
    id_column,
    KindColumn{"code", text},
    KindColumn{"notes", text},
    KindColumn{"made_at", moment},
    KindColumn{"retired_at", moment, true},
};

constexpr std::array reading_columns{
    id_column,
    KindColumn{"coil_id", id},
    coil_code,
    KindColumn{"field", text},
    KindColumn{"as_written", text},
    KindColumn{"value_si", number, true, ColumnUse::derived},
    KindColumn{"value_text", text, true, ColumnUse::derived},
    KindColumn{"standard_uncertainty_si", number, true, ColumnUse::derived},
    KindColumn{"instrument_kind", text, true, ColumnUse::derived},
    KindColumn{"instrument", text, true},
    KindColumn{"taken_at", moment},
    KindColumn{"supersedes", id, true},
};

constexpr std::array confirmation_columns{
    id_column,
    KindColumn{"coil_id", id},
    coil_code,
    KindColumn{"class", text, true},
    KindColumn{"said_by", text},
    KindColumn{"at", moment},
    KindColumn{"note", text},
    KindColumn{"verdict_id", id, true},
    KindColumn{"verdict_at", moment, true},
    KindColumn{"best_class", text, true},
    KindColumn{"best_class_probability", number, true},
    KindColumn{"grain_class", text, true},
    KindColumn{"grain_class_probability", number, true},
    KindColumn{"density_grade", text, true},
    KindColumn{"density_grade_probability", number, true},
    KindColumn{"line_size", text, true},
    KindColumn{"line_size_probability", number, true},
    KindColumn{"family", text, true},
    KindColumn{"family_probability", number, true},
    KindColumn{"unlisted_probability", number, true},
    KindColumn{"library", text, true},
    KindColumn{"program", text, true},
};

// `salvaged` and `pruned` say what happened to one file, and are no matter of another's.
const Kind settings{
    .name = "settings",
    .thing = "setting",
    .only_grows = false,
    .columns = setting_columns,
    .list =
        "SELECT name, value FROM setting WHERE name NOT IN ('salvaged', 'pruned') ORDER BY name",
    .find = "SELECT name, value, 0 AS is_undone FROM setting WHERE name = :name",
    .insert = {"INSERT INTO setting (name, value) VALUES (:name, :value)"},
    .bring_back_or_change = {"UPDATE setting SET value = :value WHERE name = :name"}};

const Kind classes{.name = "classes",
                   .thing = "class",
                   .only_grows = false,
                   .columns = class_columns,
                   .list = R"sql(
        SELECT *, name AS class, is_retired AS retired FROM reference_class
        WHERE is_undone = 0 ORDER BY position, name)sql",
                   .find = R"sql(
        SELECT *, name AS class, is_retired AS retired FROM reference_class
        WHERE name = :class)sql",
                   .insert = {R"sql(
        INSERT INTO reference_class (
            name, position, is_retired, family, grain_class, density_grade, line_size, weight,
            ln_grains_per_foot_mean, ln_grains_per_foot_sd, ln_density_mean, ln_density_sd,
            correlation, tapered, tint_clear, tint_pale, tint_brown, tint_dark, tint_black,
            usual_lengths_m, usual_relative_sd, basis)
        VALUES (
            :class, :position, :retired, :family, :grain_class, :density_grade, :line_size, :weight,
            :ln_grains_per_foot_mean, :ln_grains_per_foot_sd, :ln_density_mean, :ln_density_sd,
            :correlation, :tapered, :tint_clear, :tint_pale, :tint_brown, :tint_dark, :tint_black,
            :usual_lengths_m, :usual_relative_sd, :basis))sql"},
                   .bring_back_or_change = {R"sql(
        UPDATE reference_class SET
            position = :position, is_retired = :retired, family = :family,
            grain_class = :grain_class, density_grade = :density_grade, line_size = :line_size,
            weight = :weight, ln_grains_per_foot_mean = :ln_grains_per_foot_mean,
            ln_grains_per_foot_sd = :ln_grains_per_foot_sd, ln_density_mean = :ln_density_mean,
            ln_density_sd = :ln_density_sd, correlation = :correlation, tapered = :tapered,
            tint_clear = :tint_clear, tint_pale = :tint_pale, tint_brown = :tint_brown,
            tint_dark = :tint_dark, tint_black = :tint_black, usual_lengths_m = :usual_lengths_m,
            usual_relative_sd = :usual_relative_sd, basis = :basis, is_undone = 0
        WHERE name = :class)sql"}};

const Kind instruments{.name = "instruments",
                       .thing = "instrument",
                       .only_grows = false,
                       .columns = instrument_columns,
                       .list = "SELECT * FROM standing_instrument ORDER BY kind, code",
                       .find =
                           "SELECT * FROM instrument WHERE kind = :kind AND code = :code "
                           "ORDER BY is_undone, rid DESC LIMIT 1",
                       .insert = {R"sql(
        INSERT INTO instrument (id, kind, code, resolution_si, limit_of_error_si, repeatability_si,
                                offset_si, offset_uncertainty_si)
        VALUES (:id, :kind, :code, :resolution_si, :limit_of_error_si, :repeatability_si,
                :offset_si, :offset_uncertainty_si))sql"},
                       .bring_back_or_change = {R"sql(
        UPDATE instrument SET
            resolution_si = :resolution_si, limit_of_error_si = :limit_of_error_si,
            repeatability_si = :repeatability_si, offset_si = :offset_si,
            offset_uncertainty_si = :offset_uncertainty_si, is_undone = 0
        WHERE rid = (SELECT rid FROM instrument WHERE kind = :kind AND code = :code
                     ORDER BY is_undone, rid DESC LIMIT 1))sql"}};

const Kind checks{
    .name = "checks",
    .thing = "check",
    .only_grows = true,
    .columns = check_columns,
    .list = R"sql(
        SELECT c.id, i.kind AS instrument_kind, i.code AS instrument,
               c.checked_at_utc AS checked_at, c.as_written
        FROM instrument_check AS c JOIN instrument AS i ON i.rid = c.instrument
        WHERE c.is_undone = 0 ORDER BY c.rid)sql",
    .find = R"sql(
        SELECT c.id, i.kind AS instrument_kind, i.code AS instrument,
               c.checked_at_utc AS checked_at, c.as_written, c.is_undone
        FROM instrument_check AS c JOIN instrument AS i ON i.rid = c.instrument
        WHERE c.id = :id)sql",
    .insert = {R"sql(
        INSERT INTO instrument_check (id, instrument, checked_at_utc, as_written)
        VALUES (:id, (SELECT rid FROM standing_instrument
                      WHERE kind = :instrument_kind AND code = :instrument),
                :checked_at, :as_written))sql"},
    .bring_back_or_change = {"UPDATE instrument_check SET is_undone = 0 WHERE id = :id"}};

const Kind coatings{
    .name = "coatings",
    .thing = "check on coatings",
    .only_grows = true,
    .columns = coating_columns,
    .list = R"sql(
        SELECT c.*, i.code AS micrometer, c.checked_at_utc AS checked_at
        FROM coating_check AS c JOIN instrument AS i ON i.rid = c.instrument
        WHERE c.is_undone = 0 ORDER BY c.rid)sql",
    .find = R"sql(
        SELECT c.*, i.code AS micrometer, c.checked_at_utc AS checked_at
        FROM coating_check AS c JOIN instrument AS i ON i.rid = c.instrument
        WHERE c.id = :id)sql",
    .insert = {R"sql(
        INSERT INTO coating_check (id, instrument, checked_at_utc, offset_si,
                                   offset_uncertainty_si, spread_si, coils)
        VALUES (:id, (SELECT rid FROM standing_instrument
                      WHERE kind = 'micrometer' AND code = :micrometer),
                :checked_at, :offset_si, :offset_uncertainty_si, :spread_si, :coils))sql"},
    .bring_back_or_change = {"UPDATE coating_check SET is_undone = 0 WHERE id = :id"}};

const std::string& text_at(const std::vector<db::Value>& row, std::size_t place) {
    static const std::string none;
    const auto* text = std::get_if<std::string>(&row[place]);
    return text ? *text : none;
}

static_assert(coil_columns[1].name == "code" && reading_columns[1].name == "coil_id" &&
              reading_columns[3].name == "field" && reading_columns[11].name == "supersedes");
std::optional<std::string> code_of_coil(const std::vector<db::Value>& row) {
    return std::string(trimmed(text_at(row, 1)));
}
// A coil has one reading of each field that counts, but any number of diameters.
std::optional<std::string> field_of_coil(const std::vector<db::Value>& row) {
    if (!text_at(row, 11).empty()) return std::nullopt;  // it supersedes another one
    const auto& field = text_at(row, 3);
    return field == "diameters" ? "" : text_at(row, 1) + field;
}

const Kind coils{
    .name = "coils",
    .thing = "coil",
    .only_grows = false,
    .columns = coil_columns,
    .list = R"sql(
        SELECT id, code, notes, made_at_utc AS made_at, retired_at_utc AS retired_at
        FROM coil WHERE is_undone = 0 ORDER BY rid)sql",
    .find = R"sql(
        SELECT id, code, notes, made_at_utc AS made_at, retired_at_utc AS retired_at, is_undone
        FROM coil
        WHERE id = :id
           OR (:id IS NULL AND code = :code AND retired_at_utc IS NULL AND is_undone = 0))sql",
    .insert = {R"sql(
        INSERT INTO coil (id, code, notes, made_at_utc, retired_at_utc)
        VALUES (:id, :code, :notes, :made_at, :retired_at))sql"},
    .bring_back_or_change = {R"sql(
        UPDATE coil SET code = :code, notes = :notes, made_at_utc = :made_at,
                        retired_at_utc = :retired_at, is_undone = 0
        WHERE id = :id)sql"},
    .in_masses = Kind::InMasses{.insert = R"sql(
        INSERT INTO coil (id, code, notes, made_at_utc, retired_at_utc)
        SELECT id, code, notes, made_at, retired_at FROM incoming)sql",
                                .history = R"sql(
        INSERT INTO change (act, thing_table, thing, field, became,
                            told_code, told_notes, told_made_at_utc, told_retired_at_utc)
        SELECT (SELECT act FROM open_act), 'coil', id, 'id', id,
               code, notes, made_at_utc, retired_at_utc
        FROM coil WHERE rid > :last_rid ORDER BY rid)sql",
                                .last_rid = "SELECT coalesce(max(rid), 0) AS rid FROM coil",
                                .greatest_id = "SELECT coalesce(max(id), '') AS id FROM coil",
                                .names = R"sql(
        SELECT code AS name FROM coil WHERE retired_at_utc IS NULL AND is_undone = 0)sql",
                                .name_of = code_of_coil,
                                .rules_say_all = true}};

const Kind readings{
    .name = "readings",
    .thing = "reading",
    .only_grows = true,
    .columns = reading_columns,
    .list = R"sql(
        SELECT r.id, coil.id AS coil_id, coil.code AS coil_code, r.field, r.as_written, r.value_si,
               r.value_text, r.standard_uncertainty_si, i.kind AS instrument_kind,
               i.code AS instrument, r.taken_at_utc AS taken_at, s.id AS supersedes
        FROM reading AS r
        JOIN coil ON coil.rid = r.coil
        LEFT JOIN instrument AS i ON i.rid = r.instrument
        LEFT JOIN reading AS s ON s.rid = r.supersedes
        WHERE r.is_undone = 0 AND coil.is_undone = 0 ORDER BY r.rid)sql",
    .find = R"sql(
        SELECT r.id, coil.id AS coil_id, coil.code AS coil_code, r.field, r.as_written, r.value_si,
               r.value_text, r.standard_uncertainty_si, i.kind AS instrument_kind,
               i.code AS instrument, r.taken_at_utc AS taken_at, s.id AS supersedes, r.is_undone
        FROM reading AS r
        JOIN coil ON coil.rid = r.coil
        LEFT JOIN instrument AS i ON i.rid = r.instrument
        LEFT JOIN reading AS s ON s.rid = r.supersedes
        WHERE r.id = :id)sql",
    .insert = {R"sql(
        INSERT INTO reading (id, coil, field, as_written, value_si, value_text,
                             standard_uncertainty_si, instrument, taken_at_utc, supersedes)
        VALUES (:id, (SELECT rid FROM coil WHERE id = :coil_id), :field, :as_written, :value_si,
                :value_text, :standard_uncertainty_si,
                (SELECT rid FROM standing_instrument
                 WHERE kind = :instrument_kind AND code = :instrument),
                :taken_at, (SELECT rid FROM reading WHERE id = :supersedes)))sql"},
    .bring_back_or_change = {"UPDATE reading SET is_undone = 0 WHERE id = :id"},
    .in_masses = Kind::InMasses{.insert = R"sql(
        INSERT INTO reading (id, coil, field, as_written, value_si, value_text,
                             standard_uncertainty_si, instrument, taken_at_utc)
        SELECT i.id, (SELECT rid FROM coil WHERE coil.id = i.coil_id), i.field, i.as_written,
               i.value_si, i.value_text, i.standard_uncertainty_si,
               (SELECT rid FROM standing_instrument AS s
                WHERE s.kind = i.instrument_kind AND s.code = i.instrument), i.taken_at
        FROM incoming AS i)sql",
                                .history = R"sql(
        INSERT INTO change (act, thing_table, thing, field, became)
        SELECT (SELECT act FROM open_act), 'reading', id, 'id', id
        FROM reading WHERE rid > :last_rid ORDER BY rid)sql",
                                .last_rid = "SELECT coalesce(max(rid), 0) AS rid FROM reading",
                                .greatest_id = "SELECT coalesce(max(id), '') AS id FROM reading",
                                .names = R"sql(
        SELECT coil.id || r.field AS name FROM current_reading AS r JOIN coil ON coil.rid = r.coil
        WHERE r.field <> 'diameters')sql",
                                .name_of = field_of_coil,
                                .rules_say_all = false}};

const Kind confirmations{
    .name = "confirmations",
    .thing = "confirmation",
    .only_grows = true,
    .columns = confirmation_columns,
    .list = R"sql(
        SELECT w.id, coil.id AS coil_id, coil.code AS coil_code, k.name AS class, w.said_by,
               w.at_utc AS at, w.note, v.id AS verdict_id, v.at_utc AS verdict_at, v.best_class,
               v.best_class_probability, v.grain_class, v.grain_class_probability, v.density_grade,
               v.density_grade_probability, v.line_size, v.line_size_probability, v.family,
               v.family_probability, v.unlisted_probability, v.library, v.program
        FROM confirmation AS w
        JOIN coil ON coil.rid = w.coil
        LEFT JOIN reference_class AS k ON k.rid = w.class
        LEFT JOIN verdict AS v ON v.rid = w.verdict
        WHERE w.is_undone = 0 AND coil.is_undone = 0 ORDER BY w.rid)sql",
    .find = R"sql(
        SELECT w.id, coil.id AS coil_id, coil.code AS coil_code, k.name AS class, w.said_by,
               w.at_utc AS at, w.note, v.id AS verdict_id, v.at_utc AS verdict_at, v.best_class,
               v.best_class_probability, v.grain_class, v.grain_class_probability, v.density_grade,
               v.density_grade_probability, v.line_size, v.line_size_probability, v.family,
               v.family_probability, v.unlisted_probability, v.library, v.program, w.is_undone
        FROM confirmation AS w
        JOIN coil ON coil.rid = w.coil
        LEFT JOIN reference_class AS k ON k.rid = w.class
        LEFT JOIN verdict AS v ON v.rid = w.verdict
        WHERE w.id = :id)sql",
    .insert = {R"sql(
        INSERT INTO verdict (
            id, coil, at_utc, best_class, best_class_probability, grain_class,
            grain_class_probability, density_grade, density_grade_probability, line_size,
            line_size_probability, family, family_probability, unlisted_probability, library,
            program)
        SELECT :verdict_id, (SELECT rid FROM coil WHERE id = :coil_id), :verdict_at, :best_class,
               :best_class_probability, coalesce(:grain_class, ''), :grain_class_probability,
               coalesce(:density_grade, ''), :density_grade_probability, coalesce(:line_size, ''),
               :line_size_probability, coalesce(:family, ''), :family_probability,
               :unlisted_probability, :library, :program
        WHERE :verdict_id IS NOT NULL
        ON CONFLICT (id) DO UPDATE SET is_undone = 0)sql",
               R"sql(
        INSERT INTO confirmation (id, coil, class, verdict, said_by, at_utc, note)
        VALUES (:id, (SELECT rid FROM coil WHERE id = :coil_id),
                (SELECT rid FROM reference_class WHERE name = :class),
                (SELECT rid FROM verdict WHERE id = :verdict_id), :said_by, :at, :note))sql"},
    .bring_back_or_change = {"UPDATE confirmation SET is_undone = 0 WHERE id = :id"}};

const std::vector<Kind>& kinds() {
    static const std::vector<Kind> all = [] {
        std::vector<Kind> made{settings, classes, instruments, checks,
                               coatings, coils,   readings,    confirmations};
        const auto outfit = outfit_kinds();
        made.insert(made.end(), outfit.begin(), outfit.end());
        return made;
    }();
    return all;
}

bool is_name_sign(char c) {
    return c == '_' || std::isalnum(static_cast<unsigned char>(c)) != 0;
}

// Whether `sql` has the parameter `:name`.
bool asks_for(std::string_view sql, std::string_view name) {
    const std::string parameter = ":" + std::string(name);
    for (std::size_t at = 0; (at = sql.find(parameter, at)) != std::string_view::npos; ++at) {
        const auto end = at + parameter.size();
        if (end == sql.size() || !is_name_sign(sql[end])) return true;
    }
    return false;
}

}  // namespace

std::span<const Kind> all_kinds() {
    return kinds();
}

Result<const Kind*> kind_named(std::string_view name) {
    std::vector<std::string> names;
    for (const auto& kind : kinds()) {
        if (kind.name == name) return &kind;
        names.emplace_back(kind.name);
    }
    return problem("kind", coilbook::quoted(name) + " is not kept in a catalogue",
                   "one of " + listed(names));
}

KindRepository::Bound KindRepository::bound(const db::Database& database, const Kind& kind,
                                            const char* sql) {
    Bound made{db::Statement(database, sql), {}};
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        const auto name = kind.columns[i].name;
        if (asks_for(sql, name)) made.parameters.emplace_back(i, ":" + std::string(name));
    }
    return made;
}

KindRepository::KindRepository(const db::Database& database, const Kind& kind)
    : kind_(kind),
      database_(database),
      list_(database, kind.list),
      find_(bound(database, kind, kind.find)) {
    for (const auto* sql : kind.insert) insert_.push_back(bound(database, kind, sql));
    for (const auto* sql : kind.bring_back_or_change) {
        change_.push_back(bound(database, kind, sql));
    }
    const auto column = std::ranges::find(kind.columns, picture, &KindColumn::type);
    if (column == kind.columns.end()) return;
    const auto digest = std::ranges::find(kind.columns, "sha256", &KindColumn::name);
    assert(digest != kind.columns.end());
    picture_ = Picture{PictureRepository(database),
                       static_cast<std::size_t>(column - kind.columns.begin()),
                       static_cast<std::size_t>(digest - kind.columns.begin())};
}

db::Statement& KindRepository::bind(Bound& bound, const KindRow& row) {
    for (const auto& [column, name] : bound.parameters) bound.statement.bind(name, row[column]);
    return bound.statement;
}

KindRow KindRepository::row_from(const db::Row& row) {
    KindRow cells;
    cells.reserve(kind_.columns.size());
    for (const auto& column : kind_.columns) {
        cells.push_back(column.type == picture ? db::Value{} : row.value(column.name));
    }
    if (!picture_) return cells;
    if (auto bytes = picture_->kept.bytes_of(text_at(cells, picture_->digest_column))) {
        cells[picture_->column] = std::move(*bytes);
    }
    return cells;
}

void KindRepository::each(const std::function<void(const KindRow&)>& use) {
    for (auto rows = list_.rows(); rows.next();) use(row_from(rows.row()));
}

std::optional<KindRepository::Found> KindRepository::find(const KindRow& row) {
    auto found = bind(find_, row).first([&](const db::Row& there) {
        return Found{row_from(there), there.integer("is_undone") != 0};
    });
    if (!found || !picture_) return found;
    // Of one that was pruned or damaged, its digest is left.
    auto& bytes = found->row[picture_->column];
    const auto& given = text_at(row, picture_->column);
    if (std::holds_alternative<std::monostate>(bytes) && !given.empty() &&
        digest_of_picture(given) == text_at(found->row, picture_->digest_column)) {
        bytes = given;
        found->lacks_picture = true;
    }
    return found;
}

std::int64_t KindRepository::last_rid() const {
    db::Statement last(database_, kind_.in_masses->last_rid);
    return last.first([](const db::Row& row) { return row.integer("rid"); }).value();
}

std::string KindRepository::greatest_id() const {
    db::Statement greatest(database_, kind_.in_masses->greatest_id);
    return greatest.first([](const db::Row& row) { return row.text("id"); }).value();
}

void KindRepository::each_name(const std::function<void(std::string_view)>& use) const {
    db::Statement names(database_, kind_.in_masses->names);
    for (auto rows = names.rows(); rows.next();) use(rows.row().stored_text(0));
}

bool KindRepository::bring_picture_back(Act& act, const KindRow& row) {
    if (!picture_ || text_at(row, picture_->column).empty()) return false;
    return picture_->kept.bring_back(act, text_at(row, 0), text_at(row, picture_->digest_column),
                                     text_at(row, picture_->column));
}

void KindRepository::insert(Act& act, const KindRow& row) {
    if (picture_ && !text_at(row, picture_->column).empty()) {
        picture_->kept.keep(act, text_at(row, picture_->digest_column),
                            text_at(row, picture_->column));
    }
    for (auto& each : insert_) bind(each, row).run(act.transaction());
}

void KindRepository::change(Act& act, const KindRow& row) {
    for (auto& each : change_) bind(each, row).run(act.transaction());
}

// "WITH incoming (id, code) AS (VALUES (?, ?), (?, ?)) INSERT INTO …"
db::Statement KindRepository::inserting(std::size_t rows) const {
    std::string columns;
    std::string cells;
    for (const auto& column : kind_.columns) {
        columns += (columns.empty() ? "" : ", ") + std::string(column.name);
        cells += cells.empty() ? "?" : ", ?";
    }
    std::string sql = "WITH incoming (" + columns + ") AS (VALUES ";
    for (std::size_t at = 0; at < rows; ++at) sql += (at == 0 ? "(" : ", (") + cells + ")";
    return {database_, sql + ") " + kind_.in_masses->insert};
}

// With 5000 parameters, the most that a statement may have (db/connection.cpp).
std::size_t KindRepository::rows_of_a_statement() const {
    return 5000 / kind_.columns.size();
}

// Whether they are in: all or none.
bool KindRepository::insert_together(Act& act, std::span<const KindRow> rows) {
    std::optional<db::Statement> insert_some;
    if (rows.size() < rows_of_a_statement()) {
        insert_some.emplace(inserting(rows.size()));
    } else if (!insert_most_) {
        insert_most_.emplace(inserting(rows.size()));
    }
    auto& insert = insert_some ? *insert_some : *insert_most_;
    int number = 0;
    for (const auto& row : rows) {
        for (const auto& cell : row) insert.bind_in_place(++number, cell);
    }
    try {
        insert.run(act.transaction());
    } catch (const Error&) {
        if (!act.transaction().is_open()) throw;
        return false;
    }
    return true;
}

std::size_t KindRepository::insert_all(Act& act, std::span<const KindRow> rows) {
    assert(kind_.in_masses);
    const auto last_row = last_rid();
    const db::GuardsAside aside(act.transaction(), kind_.in_masses->rules_say_all
                                                       ? db::Guards::triggers_and_checks
                                                       : db::Guards::triggers);
    std::size_t done = 0;
    while (done < rows.size()) {
        const auto some = rows.subspan(done, std::min(rows_of_a_statement(), rows.size() - done));
        if (!insert_together(act, some)) break;
        done += some.size();
    }
    if (done == 0) return 0;
    db::Statement history(database_, kind_.in_masses->history);
    const auto written = history.bind(":last_rid", last_row).run(act.transaction());
    if (written != static_cast<std::int64_t>(done)) {
        throw Error("the history of " + std::to_string(done) + " new rows of " +
                    std::string(kind_.name) + " could not be written: it has " +
                    std::to_string(written));
    }
    return done;
}

}  // namespace coilbook::store
