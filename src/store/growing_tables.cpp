#include "store/growing_tables.h"

#include <fmt/format.h>

namespace coilbook::store {

CellsSql cells_sql(const GrowingTable& table) {
    CellsSql sql;
    int number = 0;
    for (const auto& column : table.columns) {
        ++number;
        const auto comma = sql.cells.empty() ? "" : ", ";
        if (column.to.empty()) {
            sql.cells += fmt::format("{}t.{} AS {}", comma, column.name, column.name);
            continue;
        }
        sql.cells += fmt::format("{}r{}.{} AS {}", comma, number, key_of(column.to), column.name);
        sql.joins += fmt::format(" LEFT JOIN {0} AS r{1} ON r{1}.rid = t.{2}", column.to, number,
                                 column.name);
    }
    return sql;
}

}  // namespace coilbook::store
