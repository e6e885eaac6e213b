#include "app/export_table.h"

#include <fmt/format.h>

#include <algorithm>
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
    const auto column_named = [&](std::string_view name) {
        return static_cast<std::size_t>(
            std::ranges::find(kind.columns, name, &store::KindColumn::name) - kind.columns.begin());
    };
    const auto picture = column_named("picture");
    const auto digest = column_named("sha256");
    int lost = 0;
    RowWriter writer(out, std::move(columns), format);
    std::vector<Cell> cells(places.size());
    workshop.catalogue().table_of(kind).each([&](const store::KindRow& row) {
        for (std::size_t n = 0; n < places.size(); ++n) {
            cells[n] = cell_from(kind.columns[places[n]], row[places[n]], format);
        }
        writer.add(cells);
        if (picture == kind.columns.size()) return;
        const auto is_missing = [&](std::size_t at) {
            return std::holds_alternative<std::monostate>(row[at]);
        };
        if (is_missing(picture) && !is_missing(digest)) ++lost;
    });
    writer.finish();
    if (lost == 0 || !workshop.surroundings().warn) return;
    workshop.surroundings().warn(
        fmt::format("{} lost or damaged and left out: 'coilbook check' names {}",
                    lost == 1 ? "1 picture is" : fmt::format("{} pictures are", lost),
                    lost == 1 ? "its photograph" : "their photographs"));
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
