// Holds what the engine says of the coils of a readings file against their truth: the use case of
// `coilbook score`.
//
// TRUTH.csv has `code` and `class`, and any of: family, grain_class, density_grade, line_size (an
// empty cell is 'none', a value like any other); best_class and best_FACET, the answers of the best
// possible judge, and best_class_probability; grains_per_foot, diameter_mm, density_g_cm3,
// sink_rate_in_s (in still fresh water of 10 °C); clearly_foreign, yes or no. Other columns are
// left alone. What a column is missing for is not scored. tools/simulate-bin writes such files.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <ostream>

#include "app/table.h"
#include "base/result.h"
#include "catalog/reference_class.h"
#include "metrology/instrument.h"

namespace coilbook::app {

struct ScoreRequest {
    std::filesystem::path readings;
    std::filesystem::path truth;
    Instruments instruments = default_instruments();
    std::filesystem::path instruments_file;  // of more instruments; empty: none
    ReferenceLibrary library;
    Format format = Format::table;
    std::size_t terminal_width = 0;  // as RowWriter takes it
};

// Whom to tell what, while it happens. Each may be empty: then nobody is told.
struct ScoreReports {
    std::function<void(const Problem&)> problem;           // with its place, FILE:LINE: COLUMN
    std::function<void(std::size_t coils_done)> progress;  // after each coil
    std::function<void()> coils_are_done;                  // before the results are written
};

// Writes rows `of, measure, value, standard_error, coils`. `of` is grain_class, density_grade,
// line_size, family, class, a quantity's column, unlisted or all; the measures:
//   accuracy, brier_score, log_loss, calibration_error    identify/scoring.h
//   calibration_error_by_chance                           of an honest judge of so many coils
//   accuracy_of_optimal, share_of_optimal                 the best judge's, and ours for each of
//   his accuracy_promised_by_optimal                          of class: mean best_class_probability
//   coverage_50, coverage_90, coverage_95                 share of coils whose truth lies within
//   the
//                                                         central interval (identify/intervals.h)
//   listed_called_unlisted, clearly_foreign_caught        where unlisted is the most probable class
//   threshold_at_95_percent_caught                        the highest probability of unlisted at or
//                                                         above which 95 % of clearly foreign are
//   clearly_foreign_caught_at_threshold, listed_called_unlisted_at_threshold
//   scored, refused                                       of all: coils with and without an answer
// Gives whether every coil of READINGS could be scored: a row that is refused, or has no truth, or
// whose truth names a class or facet that the library has not, is told and left out.
// A file that cannot be read at all, or anything wrong with the instruments, is told and there is
// no output. Throws Error if the disk fails.
[[nodiscard]] bool score_file(const ScoreRequest& request, std::ostream& results,
                              const ScoreReports& reports = {});

}  // namespace coilbook::app
