#include "base/id.h"

#include <algorithm>
#include <cassert>

namespace coilbook {
namespace {

constexpr std::string_view alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

}  // namespace

std::string id_text(Instant now, const RandomBytes& random) {
    auto milliseconds = now.time_since_epoch().count();
    assert(milliseconds >= 0 && "ids are made after 1970");
    std::string text(26, '0');
    for (std::size_t at = 10; at-- > 0;) {  // 10 characters of 5 bits hold the 48 of the moment
        text[at] = alphabet[static_cast<std::size_t>(milliseconds & 31)];
        milliseconds >>= 5;
    }
    for (std::size_t at = 0; at < 16; ++at) {  // 16 characters of 5 bits hold the 80 random ones
        unsigned five = 0;
        for (std::size_t bit = 5 * at; bit < 5 * at + 5; ++bit) {
            five = five * 2 + ((random[bit / 8] >> (7 - bit % 8)) & 1U);
        }
        text[10 + at] = alphabet[five];
    }
    return text;
}

bool is_id_text(std::string_view text) {
    return text.size() == 26 && std::ranges::all_of(text, [](char c) {
               return alphabet.find(c) != std::string_view::npos;
           });
}

}  // namespace coilbook
