#include "exchange/codes_seen.h"

#include <functional>
#include <utility>

namespace coilbook::exchange {

std::optional<std::size_t> CodesSeen::seen_before(std::string_view code, std::size_t line) {
    const std::uint64_t hash = std::hash<std::string_view>()(code);
    const std::uint64_t fingerprint = hash == 0 ? 1 : hash;
    Slot* slot = &slot_for(fingerprint);
    if (slot->fingerprint == fingerprint) return slot->line;
    if (2 * (count_ + 1) > slots_.size()) {
        grow();
        slot = &slot_for(fingerprint);
    }
    *slot = {fingerprint, line};
    ++count_;
    return std::nullopt;
}

// The code's slot, or the empty one where it would go.
CodesSeen::Slot& CodesSeen::slot_for(std::uint64_t fingerprint) {
    std::size_t at = fingerprint & (slots_.size() - 1);
    while (slots_[at].fingerprint != 0 && slots_[at].fingerprint != fingerprint) {
        at = (at + 1) & (slots_.size() - 1);
    }
    return slots_[at];
}

void CodesSeen::grow() {
    const auto old = std::exchange(slots_, std::vector<Slot>(2 * slots_.size()));
    for (const auto& slot : old) {
        if (slot.fingerprint != 0) slot_for(slot.fingerprint) = slot;
    }
}

}  // namespace coilbook::exchange
