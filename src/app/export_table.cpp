#include "app/export_table.h"

#include <cassert>

#include "app/kind_text.h"

namespace coilbook::app {

void export_table(Workshop& workshop, const store::Kind& kind, std::ostream& out, Format format) {
    assert(format != Format::table && "a table for people cannot be brought in again");
    std::vector<Column> columns;
    for (const auto& column : kind.columns) columns.push_back({std::string(column.name)});
    RowWriter writer(out, std::move(columns), format);
    std::vector<Cell> cells(kind.columns.size());
    workshop.catalogue().table_of(kind).each([&](const store::KindRow& row) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            cells[i] = cell_from(kind.columns[i], row[i], format);
        }
        writer.add(cells);
    });
    writer.finish();
}

}  // namespace coilbook::app
