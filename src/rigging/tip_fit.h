// Which tips a rod can cast, and which tip comes next on the water.
//
// A matched tip is made for a line size. Level line of the same weight per foot loads the rod
// alike: it fits the sizes whose matched tips, in the library, weigh the same per foot to 15 %.
// Common practice, no published source: a rod bears some more or less, and a caster cuts the length
// to suit.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/coil.h"
#include "catalog/facets.h"
#include "catalog/reference_class.h"
#include "quantity/units.h"

namespace coilbook {

// Type 6 and denser: the fast end of what is carried. Common practice, no published source.
[[nodiscard]] bool sinks_fast(const std::optional<DensityGrade>& grade);

// The sizes of rods that a coil of that class can be cast with as a tip, in their order. `weight`
// is the coil's own where it is known, else that of the class. Leaders fit every size that has tips
// in the library; floating line and what is unlisted fit none.
[[nodiscard]] std::vector<LineSize> sizes_that_fit(const ReferenceClass& known,
                                                   const std::optional<LinearDensity>& weight,
                                                   const ReferenceLibrary& library);

// A tip in a wallet.
struct WalletTip {
    Id<Coil> coil;
    std::string code;
    std::optional<DensityGrade> grade;

    bool operator==(const WalletTip&) const = default;
};

// The tip to put on next: of those in the wallet the next denser than the one that is on, and after
// the densest the lightest again, so that one key goes through all of them. Tips of one grade go by
// their codes. Nothing for an empty wallet; without a tip on, the lightest.
[[nodiscard]] std::optional<WalletTip> next_tip(const std::optional<WalletTip>& on,
                                                std::vector<WalletTip> wallet);

}  // namespace coilbook
