// The reference library as a table that can be read, checked and argued about in any spreadsheet.
//
// One row a class. Its figures are medians: a class is normal in the logarithms, with mean
// ln(figure) and a standard deviation of which 100 times is the column "…_sd_percent", so that 3
// means "within about 3 per cent, one time in three more".
// Columns, all required: class, family, grain_class, density_grade, line_size, weight,
// grains_per_foot, grains_per_foot_sd_percent, density_g_cm3, density_sd_percent, correlation,
// tapered, clear, pale, brown, dark, black, usual_lengths_ft (separated by blanks),
// usual_length_sd_percent, basis. The facets and the usual lengths may be empty.
#pragma once

#include <filesystem>
#include <istream>
#include <string>
#include <vector>

#include "base/result.h"
#include "catalog/reference_class.h"

namespace coilbook::exchange {

// The library, or everything that is wrong with the file: at least one Problem, each with its place
// in its field, "FILE:LINE: COLUMN".
using LibraryResult = tl::expected<ReferenceLibrary, std::vector<Problem>>;

// Checks: names are unique and every class has a basis; exactly one is of family unlisted; weights,
// figures and standard deviations are above zero; probabilities are 0 … 1 and the tints' sum is 1
// within 1e-6; the correlation is within -1 … 1, ends excluded; usual lengths have their deviation.
// Nothing is learned yet: `confirmed` is 0. Throws Error if the disk fails.
[[nodiscard]] LibraryResult read_library(const std::filesystem::path& path);
// The same from a stream; `name` stands for the file in Problems.
[[nodiscard]] LibraryResult read_library(std::istream& stream, const std::string& name);

}  // namespace coilbook::exchange
