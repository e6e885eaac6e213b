// The tables whose changes the history writes down field by field, with the columns that can
// change. For this folder only. Settings are another matter: they have one column and can be
// deleted.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <string_view>

namespace coilbook::store {

// The columns of each table that can change, in the order in which its triggers write them down.
// They are what the schema names, so that no name out of a file ever becomes SQL.
inline constexpr std::array<std::string_view, 5> coil_columns{"code", "notes", "made_at_utc",
                                                              "retired_at_utc", "is_undone"};
inline constexpr std::array<std::string_view, 8> instrument_columns{"kind",
                                                                    "code",
                                                                    "resolution_si",
                                                                    "limit_of_error_si",
                                                                    "repeatability_si",
                                                                    "offset_si",
                                                                    "offset_uncertainty_si",
                                                                    "is_undone"};
inline constexpr std::array<std::string_view, 22> class_columns{"position",
                                                                "is_retired",
                                                                "family",
                                                                "grain_class",
                                                                "density_grade",
                                                                "line_size",
                                                                "weight",
                                                                "ln_grains_per_foot_mean",
                                                                "ln_grains_per_foot_sd",
                                                                "ln_density_mean",
                                                                "ln_density_sd",
                                                                "correlation",
                                                                "tapered",
                                                                "tint_clear",
                                                                "tint_pale",
                                                                "tint_brown",
                                                                "tint_dark",
                                                                "tint_black",
                                                                "usual_lengths_m",
                                                                "usual_relative_sd",
                                                                "basis",
                                                                "is_undone"};
inline constexpr std::array<std::string_view, 11> rig_columns{
    "code",  "name",        "line_size",      "rod",      "reel", "backing", "running_line",
    "notes", "made_at_utc", "retired_at_utc", "is_undone"};
inline constexpr std::array<std::string_view, 6> boat_columns{
    "name", "seats", "notes", "made_at_utc", "retired_at_utc", "is_undone"};
inline constexpr std::array<std::string_view, 5> client_columns{
    "code", "made_at_utc", "told_at_utc", "forgotten_at_utc", "is_undone"};
inline constexpr std::array<std::string_view, 2> outing_columns{"cancelled_at_utc", "is_undone"};
inline constexpr std::array<std::string_view, 2> promise_columns{"withdrawn_at_utc", "is_undone"};
inline constexpr std::array<std::string_view, 1> growing_columns{"is_undone"};

struct ChangingTable {
    std::string_view name;
    std::string_view key;  // what its things are called by
    std::span<const std::string_view> columns;
};
inline constexpr std::array<ChangingTable, 16> changing_tables{
    {{"coil", "id", coil_columns},
     {"instrument", "id", instrument_columns},
     {"reading", "id", growing_columns},
     {"reference_class", "name", class_columns},
     {"verdict", "id", growing_columns},
     {"confirmation", "id", growing_columns},
     {"instrument_check", "id", growing_columns},
     {"coating_check", "id", growing_columns},
     {"rig", "id", rig_columns},
     {"boat", "id", boat_columns},
     {"client", "id", client_columns},
     {"outing", "id", outing_columns},
     {"promise", "id", promise_columns},
     {"handover", "id", growing_columns},
     {"condition", "id", growing_columns},
     {"photograph", "id", growing_columns}}};

// The SQL of what, by the history, a column of the row with the alias t holds: what it last became,
// else NULL; of is_undone 0. The fields of a coil may stand in the row that says that it came to be
// (schema step 7).
[[nodiscard]] inline std::string told_by_history_sql(const ChangingTable& table,
                                                     std::string_view column) {
    std::string_view last =
        "(SELECT c.became FROM change AS c WHERE c.thing = t.{1} AND c.thing_table = '{0}' "
        "AND c.field = '{2}' ORDER BY c.rid DESC LIMIT 1)";
    if (column == "is_undone") {
        last =
            "coalesce((SELECT c.became FROM change AS c WHERE c.thing = t.{1} "
            "AND c.thing_table = '{0}' AND c.field = '{2}' ORDER BY c.rid DESC LIMIT 1), 0)";
    } else if (table.name == "coil") {
        last =
            "(SELECT iif(c.field = '{2}', c.became, c.told_{2}) FROM change AS c "
            "WHERE c.thing = t.{1} AND c.thing_table = '{0}' "
            "AND (c.field = '{2}' OR c.told_{2} IS NOT NULL) ORDER BY c.rid DESC LIMIT 1)";
    }
    return fmt::format(fmt::runtime(last), table.name, table.key, column);
}

// The table of that name; null for another, such as setting.
[[nodiscard]] inline const ChangingTable* table_named(std::string_view name) {
    const auto found = std::ranges::find(changing_tables, name, &ChangingTable::name);
    return found == changing_tables.end() ? nullptr : &*found;
}

}  // namespace coilbook::store
