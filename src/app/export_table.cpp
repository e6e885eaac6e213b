#include "app/export_table.h"

#include <cassert>

#include "app/kind_text.h"
#include "app/private_file.h"

namespace coilbook::app {

void export_table(Workshop& workshop, const store::Kind& kind, std::ostream& out, Format format,
                  bool with_names) {
    assert(format != Format::table && "a table for people cannot be brought in again");
    std::vector<Column> columns;
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        if (kind.columns[i].use == store::ColumnUse::personal && !with_names) continue;
        columns.push_back({std::string(kind.columns[i].name)});
        places.push_back(i);
    }
    RowWriter writer(out, std::move(columns), format);
    std::vector<Cell> cells(places.size());
    workshop.catalogue().table_of(kind).each([&](const store::KindRow& row) {
        for (std::size_t n = 0; n < places.size(); ++n) {
            cells[n] = cell_from(kind.columns[places[n]], row[places[n]], format);
        }
        writer.add(cells);
    });
    writer.finish();
}

Result<void> export_to_file(Workshop& workshop, const store::Kind& kind,
                            const std::filesystem::path& file, std::optional<Format> format,
                            bool with_names) {
    const auto by_name = file.extension() == ".json" ? Format::json : Format::csv;
    return fill_new_private_file(file, "FILE", [&](std::ostream& out) {
        workshop.progress().begin("Writing " + file.filename().string());
        export_table(workshop, kind, out, format.value_or(by_name), with_names);
    });
}

}  // namespace coilbook::app
