// Which codes a file has brought up so far, and on which line, in little memory.
//
// Keeps a fingerprint of 64 bits and the line for each code, 16 bytes at half load, so that a
// million rows take 32 MB at most. Two different codes of a million have the same fingerprint once
// in some thirty million files; then the second is refused as a duplicate, and the person sees both
// lines.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace coilbook::exchange {

class CodesSeen {
  public:
    // The line on which `code` stood already, or nothing if it is new; then it is kept with `line`.
    [[nodiscard]] std::optional<std::size_t> seen_before(std::string_view code, std::size_t line);

  private:
    struct Slot {
        std::uint64_t fingerprint = 0;  // 0: empty
        std::uint64_t line = 0;
    };
    [[nodiscard]] Slot& slot_for(std::uint64_t fingerprint);
    void grow();

    std::vector<Slot> slots_ = std::vector<Slot>(64);  // a power of two
    std::size_t count_ = 0;
};

}  // namespace coilbook::exchange
