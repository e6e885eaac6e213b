// A rig: a rod and what is strung on it, from the reel to the leader. A thing with a label of its
// own.
//
// Rod, reel, backing and running line are told in words; heads, tips and leaders are coils of the
// catalogue, which are handed into the rig (custody.h): one tip is on, the others lie in its
// wallet.
#pragma once

#include <optional>
#include <string>

#include "base/id.h"
#include "base/instant.h"
#include "catalog/facets.h"

namespace coilbook {

struct Rig {
    Id<Rig> id;
    std::string code;  // on its label; unique among coils and rigs that are not retired
    std::string name;  // "blue two-hander"
    std::optional<LineSize> line_size;  // that the rod casts
    std::string rod, reel, backing, running_line;
    std::string notes;
    Instant made_at;
    bool is_retired = false;

    bool operator==(const Rig&) const = default;
};

}  // namespace coilbook
