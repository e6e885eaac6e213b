// The truth about a bin's coils, as score_file.h describes the file.
#pragma once

#include <array>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/score_questions.h"
#include "base/result.h"

namespace coilbook::app {

inline constexpr std::array score_quantities{"grains_per_foot", "diameter_mm", "density_g_cm3",
                                             "sink_rate_in_s"};

// Empty where the file has no such column; an empty text is the answer 'none'.
struct CoilTruth {
    std::array<std::optional<std::string>, score_questions.size()> answers;
    std::array<std::optional<std::string>, score_questions.size()> best_answers;
    std::optional<double> best_class_probability;
    std::array<std::optional<double>, score_quantities.size()> quantities;
    std::optional<bool> is_clearly_foreign;
};

using Truth = std::map<std::string, CoilTruth, std::less<>>;  // by code

// The whole file, or everything that is wrong with it: at least one Problem, each with its place in
// its field. Throws Error if the disk fails.
[[nodiscard]] tl::expected<Truth, std::vector<Problem>> read_truth(
    const std::filesystem::path& path);

}  // namespace coilbook::app
