#include "app/refused_rows.h"

#include <algorithm>
#include <utility>

#include "app/private_file.h"
#include "base/error.h"
#include "base/text.h"
#include "exchange/csv.h"

namespace coilbook::app {

RefusedRows::RefusedRows(std::filesystem::path file) : path_(std::move(file)) {}

RefusedRows::~RefusedRows() {
    if (!file_ || is_kept_) return;
    file_->close();
    std::error_code none;
    std::filesystem::remove(path_, none);
}

void RefusedRows::add(const exchange::Record& record, const std::vector<std::string>& columns,
                      exchange::RecordFormat format, const std::string& reason) {
    if (!file_) {
        auto file = new_private_file(path_, "--keep-going");
        if (!file) throw Error(to_line(file.error()));
        file_.emplace(std::move(*file));
        columns_ = columns;
        std::erase(columns_, reason_column);
        auto heads = columns_;
        heads.emplace_back(reason_column);
        exchange::write_csv_row(*file_, heads);
    }
    std::vector<std::string> cells;
    for (const auto& name : columns_) {
        const auto cell = std::ranges::find(record.cells, name, &exchange::RecordCell::name);
        const bool is_there = cell != record.cells.end() && cell->text;
        // What came out of JSON is not guarded yet.
        cells.push_back(!is_there                                ? ""
                        : format == exchange::RecordFormat::json ? exchange::guarded(*cell->text)
                                                                 : *cell->text);
    }
    cells.push_back(exchange::guarded(reason));
    exchange::write_csv_row(*file_, cells);
}

void RefusedRows::finish() {
    if (!file_ || file_->flush()) return;
    throw Error("the refused rows cannot be written into " + coilbook::quoted(path_.string(), 300));
}

}  // namespace coilbook::app
