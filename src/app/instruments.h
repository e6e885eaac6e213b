// The bench's instruments: what is known of each, checking them, and studying how well people read.
#pragma once

#include <filesystem>
#include <ostream>
#include <string>
#include <vector>

#include "app/table.h"
#include "app/workshop.h"

namespace coilbook::app {

using Done = tl::expected<void, std::vector<Problem>>;

// Every instrument: `kind, instrument, unit, resolution, limit_of_error, repeatability, offset,
// offset_u, coating_u, checked_at, check`. Figures are in `unit`: gr, mm, s or K. `coating_u` is of
// micrometers: how much soft coatings add. `check` is `never checked`, `checked` or `check again`,
// when the last check is older than the setting `instrument_check_days` (else a year).
void list_instruments(Workshop& workshop, std::ostream& out, Format format,
                      std::size_t terminal_width = 0);

// Puts the instruments of an instruments file into the catalogue, in one act. An instrument that
// was checked keeps what its check found: a row that says otherwise is a Problem, and nothing is
// done.
[[nodiscard]] Done take_in_instruments(Workshop& workshop, const std::filesystem::path& path);

// Takes in a table of checks against standards (exchange/bench_tables.h): what each instrument is
// off by goes into its figures, and the check is kept; all in one act, or nothing and everything
// that is wrong. Writes one row for each instrument: `kind, instrument, unit, standards, readings,
// offset, offset_u, offset_95, repeatability, repeatability_u, chi_square, chance,
// stretch_percent, stretch_percent_u`; a table has a sentence instead of the last four.
// Throws Error if the disk fails.
[[nodiscard]] Done check_instruments(Workshop& workshop, std::istream& file,
                                     const std::string& file_name, std::ostream& out, Format format,
                                     std::size_t terminal_width = 0);

// Finds what a micrometer shows on soft coatings, from the coils of the catalogue that were read
// with it and whose weight per foot and density are known from a weighing under water. From then
// on this counts for it instead of its limit of error and the general allowance for soft coatings.
// Gives a sentence on what was found. A Problem where the micrometer is unknown or fewer than
// three such coils are there.
[[nodiscard]] Result<std::string> check_on_coatings(Workshop& workshop, const std::string& code);

// A gauge study: `part, standard_deviation, unit, percent_of_spread`, for repeatability, people,
// people_by_coil, gauge, coils and total; below a table, in words what it means. No catalogue is
// needed.
[[nodiscard]] Done study_readings(std::istream& file, const std::string& file_name,
                                  std::ostream& out, Format format, std::size_t terminal_width = 0);

}  // namespace coilbook::app
