// What a season cost: things lost, damaged and retired, by boat and by what they were.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "catalog/custody.h"

namespace coilbook {

struct SeasonLoss {
    std::optional<Id<Boat>> boat;  // nothing: not from a boat
    std::string class_name;        // of a rig "rig"; empty: not known
    int lost = 0;                  // and not found again by the end
    int found = 0;                 // lost, but there again by the end
    int damaged = 0;               // and not mended by the end
    int retired = 0;

    bool operator==(const SeasonLoss&) const = default;
};

// A row for each boat and class that something happened to from `from` on and before `until`, by
// boat and class name. `record` is whole and in its order; `class_of` says what a thing is held to
// be. A thing that was lost twice counts once as lost or found, where it was lost last.
[[nodiscard]] std::vector<SeasonLoss> season_losses(
    std::span<const Handover> record, Instant from, Instant until,
    const std::function<std::string(const Thing&)>& class_of);

// What to buy or cut: for each class what is gone for good, the most first. Found ones do not
// count.
struct ToReplace {
    std::string class_name;
    int count = 0;

    bool operator==(const ToReplace&) const = default;
};
[[nodiscard]] std::vector<ToReplace> to_replace(const std::vector<SeasonLoss>& losses);

}  // namespace coilbook
