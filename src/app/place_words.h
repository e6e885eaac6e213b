// Where a thing is, in words.
#pragma once

#include <functional>
#include <string>

#include "catalog/custody.h"

namespace coilbook::app {

// What boats, rigs and clients are called.
struct PlaceNames {
    std::function<std::string(const Id<Boat>&)> boat;
    std::function<std::string(const Id<Rig>&)> rig;        // its code
    std::function<std::string(const Id<Client>&)> client;  // the code
};

// "in the bin", "with boat Heron", "in the wallet of rig R1", "lost from boat Heron".
[[nodiscard]] inline std::string words_for(const Place& place, const PlaceNames& names) {
    const auto from = place.boat ? " from boat " + names.boat(*place.boat) : "";
    switch (place.where) {
        case Whereabouts::bin:
            return "in the bin";
        case Whereabouts::boat:
            return "with boat " + names.boat(*place.boat);
        case Whereabouts::rig:
            if (place.role == RigRole::wallet)
                return "in the wallet of rig " + names.rig(*place.rig);
            return std::string(name_of(*place.role)) + " of rig " + names.rig(*place.rig);
        case Whereabouts::lent:
            return place.client ? "lent to client " + names.client(*place.client) : "lent";
        case Whereabouts::lost:
            return "lost" + from;
        case Whereabouts::damaged:
            return "damaged" + from;
        case Whereabouts::retired:
            return "retired";
    }
    return "";
}

}  // namespace coilbook::app
