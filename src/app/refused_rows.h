// The rows of a file that an import leaves out, with the reason, in a file of their own: as CSV
// that can come in again once it is mended.
#pragma once

#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "exchange/records.h"

namespace coilbook::app {

class RefusedRows {
  public:
    // What the file calls the column with the reasons.
    static constexpr const char* reason_column = "refused_because";

    // Makes nothing before the first row.
    explicit RefusedRows(std::filesystem::path file);
    // Removes what was written, unless keep() was called.
    ~RefusedRows();
    RefusedRows(const RefusedRows&) = delete;
    RefusedRows& operator=(const RefusedRows&) = delete;

    // Puts a row aside that is under these `columns`, in a file of that format. Throws Error where
    // the file cannot be made, as where there is one of that name.
    void add(const exchange::Record& record, const std::vector<std::string>& columns,
             exchange::RecordFormat format, const std::string& reason);
    // Throws Error where not all of it could be written.
    void finish();
    void keep() { is_kept_ = true; }

  private:
    std::filesystem::path path_;
    std::optional<std::ofstream> file_;
    std::vector<std::string> columns_;
    bool is_kept_ = false;
};

}  // namespace coilbook::app
