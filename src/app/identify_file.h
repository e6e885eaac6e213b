// Identifies every coil of a readings file: the use case of `coilbook identify`.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <ostream>

#include "app/table.h"
#include "base/result.h"
#include "catalog/reference_class.h"
#include "exchange/instruments_file.h"
#include "line/water.h"
#include "metrology/instrument.h"

namespace coilbook::app {

struct IdentifyRequest {
    std::filesystem::path readings;
    Instruments instruments = default_instruments();
    std::filesystem::path instruments_file;  // of more instruments; empty: none
    ReferenceLibrary library;
    Water fished_in = fresh_water_at_10_C();  // for the sink rates
    Format format = Format::table;
    std::size_t terminal_width = 0;  // as RowWriter takes it
    bool stops_at_first_problem = false;
};

// Whom to tell what, while it happens. Each may be empty: then nobody is told.
struct IdentifyReports {
    std::function<void(const Problem&)> problem;           // with its place, FILE:LINE: COLUMN
    std::function<void(const Problem&)> warning;           // the same, but nothing is wrong
    std::function<void(std::size_t coils_done)> progress;  // after each coil
    std::function<void()> coils_are_done;                  // before a table is written
};

// The instruments of a request: `known`, and what the file, if there is one, says of more or
// better.
[[nodiscard]] exchange::InstrumentsResult instruments_for(const Instruments& known,
                                                          const std::filesystem::path& file);

// Writes one row a coil to `results`, in the file's order; CSV and JSON as they come. A row with
// Problems is told and left out, and the others are still done, unless `stops_at_first_problem`.
// Gives whether all rows were fine. A file that cannot be read at all, or
// anything wrong with the instruments, is told and there is no output.
// Throws Error if the disk fails.
[[nodiscard]] bool identify_file(const IdentifyRequest& request, std::ostream& results,
                                 const IdentifyReports& reports = {});

}  // namespace coilbook::app
