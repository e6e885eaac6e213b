// Whatever somebody hands in for a photograph is a picture in its limits, or a Problem.
#include <algorithm>
#include <cstdint>
#include <string_view>

#include "fuzz/claim.h"
#include "pictures/picture.h"
#include "pictures/upright.h"

using namespace coilbook;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const int orientation = pictures::orientation_of(bytes);
    claim(orientation >= 1 && orientation <= 8, "a camera is held in one of eight ways");
    const auto head = pictures::head_of(bytes);
    // A small file may still be a large picture: what is large is looked at by its head alone.
    if (head && std::int64_t{head->width} * head->height > 1'000'000) return 0;
    const auto picture = pictures::decoded(bytes, 24);
    if (!picture) {
        claim(!picture.error().sentence.empty(), "a Problem says what is wrong");
        return 0;
    }
    claim(head.has_value(), "a picture has a head");
    claim(std::max(picture->width, picture->height) <= 24, "it is made small");
    claim(picture->rgba.size() == 4U * static_cast<std::size_t>(picture->width) *
                                      static_cast<std::size_t>(picture->height),
          "every pixel has four bytes");
    return 0;
}
