// Something that a person can do: by its key, or found by its words in the list of all (F1).
#pragma once

#include <string_view>

#include "bench/widgets/keys.h"

namespace coilbook::bench {

struct Action {
    std::string_view name;    // never changes: "confirm"
    std::string_view says;    // what it does: "Confirm what the coil is"
    Chord chord;              // key 0: it has none
    bool is_possible = true;  // just now; else it is shown faintly and does nothing

    bool operator==(const Action&) const = default;
};

}  // namespace coilbook::bench
