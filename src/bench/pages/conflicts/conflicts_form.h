// What is chosen on the page Conflicts, and what the person asks for there.
#pragma once

#include <string>
#include <variant>

#include "bench/common_commands.h"

namespace coilbook::bench::conflicts_page {

struct Form {
    std::string at;        // the id of the conflict that is shown
    bool scrolls = false;  // to its row

    bool operator==(const Form&) const = default;
};

// So many rows down, or up where it is negative.
struct StepConflict {
    int step = 1;
    bool operator==(const StepConflict&) const = default;
};
// The choice of that number, from 1, of the conflict that is shown is right.
struct SettleAs {
    int choice = 1;
    bool operator==(const SettleAs&) const = default;
};

using Command = std::variant<StepConflict, SettleAs, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::conflicts_page
