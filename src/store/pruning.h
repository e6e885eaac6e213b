// Deleting for good what counts no more. Nothing else in this program deletes what was once known.
//
// Pruned are coils that were retired or whose adding was undone, with their readings, words,
// conditions and photographs, and their changes in the history; and the pictures of photographs
// that were put away or undone. Never pruned is what was ever handed out or promised: it belongs to
// the record of boats and seasons. Acts stay in the history with their seals (schema step 8); those
// that lost something are not undone any more. A pruned catalogue is merged only with copies of
// itself: a copy from before would bring half of it back.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/instant.h"
#include "store/catalogue.h"

namespace coilbook::store {

struct Prunable {
    std::vector<std::string> coils;     // their codes, in the order in which they came to be
    std::int64_t confirmed = 0;         // of the coils, which classes have learned from
    std::vector<std::string> pictures;  // by their SHA-256: what shows no more
    std::int64_t bytes = 0;             // of the pictures

    [[nodiscard]] bool is_empty() const { return coils.empty() && pictures.empty(); }
    bool operator==(const Prunable&) const = default;
};

// What has counted no more since before `before`. Throws Error.
[[nodiscard]] Prunable prunable(const Catalogue& catalogue, Instant before);

// Deletes it, as one act: all or, with an Error, nothing. Gives what was deleted. The bytes stay in
// the file until Catalogue::wipe_deleted().
Prunable prune(Catalogue& catalogue, Instant before, const ActNote& note);

}  // namespace coilbook::store
