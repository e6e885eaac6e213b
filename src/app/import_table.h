// Bringing things of one kind into the catalogue, as `coilbook export` wrote them or as somebody
// made the table by hand: `coilbook import`.
//
// A row means the thing of its id, else the one that it names otherwise (a coil by its code, an
// instrument by kind and code); where there is none, it is a new thing. A row that says what the
// catalogue says already changes nothing, so the same file may come in again. Columns that are not
// in the file stay as they are; an empty cell is an empty value. What only grows (readings, checks,
// confirmations) is never changed by a file: corrections are further rows. Nothing is ever removed.
// All is one act, which can be undone.
// Tables that people fill in at the bench, one row a coil with units, are another matter:
// take_in.h.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <istream>
#include <optional>
#include <ostream>
#include <string>

#include "app/table.h"
#include "app/workshop.h"
#include "store/kinds.h"

namespace coilbook::app {

struct ImportRequest {
    const store::Kind* kind = nullptr;
    std::filesystem::path file = {};  // CSV or JSON
    bool is_dry_run = false;          // tell what would change, and change nothing
    // Take in the rows that are fine, and write the others into this new file, as CSV with the
    // column `refused_because` at the end; else one bad row refuses all. So does one that cannot
    // even be parted into cells, as after a quote that is never closed: it cannot be put aside.
    std::optional<std::filesystem::path> refused_into = {};
    Format format = Format::table;  // of a dry run's rows
    std::size_t terminal_width = 0;
};

struct ImportCounts {
    std::size_t added = 0, changed = 0, same = 0, refused = 0;

    bool operator==(const ImportCounts&) const = default;
};

struct ImportReports {
    std::function<void(const Problem&)> problem;  // what is wrong with a row, with its place
    std::function<void(std::size_t)> progress;    // after each row
};

// Does it, or tells what it would do: a dry run writes to `results` a row for each of the file's:
// line, change (`add`, `change`, `same`, `refused`), thing, detail; a table leaves out the same.
// Gives the counts; where `refused` is above zero without `refused_into`, nothing was changed. A
// Problem where the file cannot be read at all; nothing has happened then. Throws Error if the disk
// fails.
[[nodiscard]] Result<ImportCounts> import_table(Workshop& workshop, const ImportRequest& request,
                                                std::ostream& results,
                                                const ImportReports& reports = {});
// The same from a stream; request.file stands for it in Problems and in the history.
[[nodiscard]] Result<ImportCounts> import_table(Workshop& workshop, const ImportRequest& request,
                                                std::istream& stream, std::ostream& results,
                                                const ImportReports& reports = {});

}  // namespace coilbook::app
