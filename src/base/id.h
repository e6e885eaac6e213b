// Names for things that two laptops may make apart and later bring together.
//
// An Id is 128 bits: 48 of the moment it was made (milliseconds since 1970) and 80 random ones, so
// that ids sort by age and never meet. Neither clock nor randomness is taken here: both are passed
// in. Written as 26 characters of Crockford's base 32 (no I, L, O, U).
// Two kinds of thing never share an id type: Id<Coil> does not convert to Id<Reading>.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/instant.h"
#include "base/result.h"

namespace coilbook {

using RandomBytes = std::array<std::uint8_t, 10>;

// The 26 characters of an id made at `now`. REQUIRES: `now` not before 1970.
[[nodiscard]] std::string id_text(Instant now, const RandomBytes& random);

// Whether `text` could have come from id_text: 26 characters of the alphabet, upper case.
[[nodiscard]] bool is_id_text(std::string_view text);

template <class Thing>
class Id {
  public:
    [[nodiscard]] static Id make(Instant now, const RandomBytes& random) {
        return Id(id_text(now, random));
    }
    [[nodiscard]] static Result<Id> from_text(std::string_view text) {
        if (!is_id_text(text)) {
            return problem("id", "'" + std::string(text.substr(0, 40)) + "' is not an id",
                           "26 letters and digits");
        }
        return Id(std::string(text));
    }

    [[nodiscard]] const std::string& text() const { return text_; }
    auto operator<=>(const Id&) const = default;

  private:
    explicit Id(std::string text) : text_(std::move(text)) {}
    std::string text_;  // always is_id_text
};

}  // namespace coilbook
