// The tables whose rows are never changed, but for marks such as is_undone: with the columns that
// say what a row holds, and what each points to. For this folder only.
//
// The order of the columns is that in which seals take them up, so it never changes.
#pragma once

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <string_view>

namespace coilbook::store {

struct GrowingColumn {
    std::string_view name;
    std::string_view to = {};  // the table that it points to; empty: a plain value
};

inline constexpr std::array<GrowingColumn, 10> reading_cells{{{"id"},
                                                              {"coil", "coil"},
                                                              {"field"},
                                                              {"as_written"},
                                                              {"value_si"},
                                                              {"value_text"},
                                                              {"standard_uncertainty_si"},
                                                              {"instrument", "instrument"},
                                                              {"taken_at_utc"},
                                                              {"supersedes", "reading"}}};
inline constexpr std::array<GrowingColumn, 16> verdict_cells{{{"id"},
                                                              {"coil", "coil"},
                                                              {"at_utc"},
                                                              {"best_class"},
                                                              {"best_class_probability"},
                                                              {"grain_class"},
                                                              {"grain_class_probability"},
                                                              {"density_grade"},
                                                              {"density_grade_probability"},
                                                              {"line_size"},
                                                              {"line_size_probability"},
                                                              {"family"},
                                                              {"family_probability"},
                                                              {"unlisted_probability"},
                                                              {"library"},
                                                              {"program"}}};
inline constexpr std::array<GrowingColumn, 7> confirmation_cells{{{"id"},
                                                                  {"coil", "coil"},
                                                                  {"class", "reference_class"},
                                                                  {"verdict", "verdict"},
                                                                  {"said_by"},
                                                                  {"at_utc"},
                                                                  {"note"}}};
inline constexpr std::array<GrowingColumn, 4> outing_cells{
    {{"id"}, {"day"}, {"boat", "boat"}, {"client", "client"}}};
inline constexpr std::array<GrowingColumn, 6> promise_cells{
    {{"id"}, {"outing", "outing"}, {"rig", "rig"}, {"coil", "coil"}, {"class"}, {"count"}}};
inline constexpr std::array<GrowingColumn, 12> handover_cells{{{"id"},
                                                               {"coil", "coil"},
                                                               {"rig", "rig"},
                                                               {"place"},
                                                               {"boat", "boat"},
                                                               {"in_rig", "rig"},
                                                               {"role"},
                                                               {"client", "client"},
                                                               {"at_utc"},
                                                               {"by_whom"},
                                                               {"note"},
                                                               {"turn"}}};
inline constexpr std::array<GrowingColumn, 4> instrument_check_cells{
    {{"id"}, {"instrument", "instrument"}, {"checked_at_utc"}, {"as_written"}}};
inline constexpr std::array<GrowingColumn, 7> coating_check_cells{{{"id"},
                                                                   {"instrument", "instrument"},
                                                                   {"checked_at_utc"},
                                                                   {"offset_si"},
                                                                   {"offset_uncertainty_si"},
                                                                   {"spread_si"},
                                                                   {"coils"}}};

inline constexpr std::array<GrowingColumn, 7> condition_cells{
    {{"id"}, {"coil", "coil"}, {"what"}, {"is_found"}, {"at_utc"}, {"by_whom"}, {"note"}}};
inline constexpr std::array<GrowingColumn, 11> photograph_cells{{{"id"},
                                                                 {"coil", "coil"},
                                                                 {"sha256"},
                                                                 {"format"},
                                                                 {"width"},
                                                                 {"height"},
                                                                 {"size"},
                                                                 {"puts_away", "photograph"},
                                                                 {"at_utc"},
                                                                 {"by_whom"},
                                                                 {"note"}}};

struct GrowingTable {
    std::string_view name;
    std::span<const GrowingColumn> columns;
};
// In the order in which seals take them up; those of form 1 know the first six.
inline constexpr std::size_t growing_tables_in_form_1 = 6;
inline constexpr std::array<GrowingTable, 10> growing_tables{
    {{"reading", reading_cells},
     {"verdict", verdict_cells},
     {"confirmation", confirmation_cells},
     {"outing", outing_cells},
     {"promise", promise_cells},
     {"handover", handover_cells},
     {"instrument_check", instrument_check_cells},
     {"coating_check", coating_check_cells},
     {"condition", condition_cells},
     {"photograph", photograph_cells}}};

// The table of that name; null for another.
[[nodiscard]] inline const GrowingTable* growing_table_named(std::string_view name) {
    const auto found = std::ranges::find(growing_tables, name, &GrowingTable::name);
    return found == growing_tables.end() ? nullptr : &*found;
}

// What a row of `table` is called by: classes by their name, everything else by an id.
[[nodiscard]] constexpr std::string_view key_of(std::string_view table) {
    return table == "reference_class" ? "name" : "id";
}

// "t.id AS id, r1.id AS coil, …" and "LEFT JOIN coil AS r1 ON r1.rid = t.coil …": the cells of a
// row of `table`, called t, with rows that it points to named by their ids.
struct CellsSql {
    std::string cells;
    std::string joins;
};
[[nodiscard]] CellsSql cells_sql(const GrowingTable& table);

}  // namespace coilbook::store
