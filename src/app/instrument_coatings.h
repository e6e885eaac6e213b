// What a micrometer shows on soft coatings, from coils whose true diameter is known otherwise.
#pragma once

#include <string>
#include <vector>

#include "app/workshop.h"
#include "metrology/calibration.h"

namespace coilbook::app {

// Fewer coils are not asked (common practice, no published source).
inline constexpr std::size_t least_coated_coils = 3;

// The coils that a micrometer can be tried on.
struct CoatedCoils {
    std::vector<CoatingCheck> usable;  // read with it, weighed in air and under water, level
    std::vector<std::string>
        lack_of_water;  // codes of those that only lack the weighing under water

    [[nodiscard]] bool are_enough() const { return usable.size() >= least_coated_coils; }
};
// A Problem where the micrometer is unknown. Throws Error.
[[nodiscard]] Result<CoatedCoils> coated_coils(Workshop& workshop, const std::string& code);

// Finds what a micrometer shows on soft coatings, from the coils of the catalogue that were read
// with it and whose weight per foot and density are known from a weighing under water. From then
// on this counts for it instead of its limit of error and the general allowance for soft coatings.
// Gives a sentence on what was found. A Problem where the micrometer is unknown or fewer than
// three such coils are there.
[[nodiscard]] Result<std::string> check_on_coatings(Workshop& workshop, const std::string& code);

}  // namespace coilbook::app
