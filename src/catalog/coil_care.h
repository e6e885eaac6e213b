// What befell a coil and what it looks like: conditions that somebody saw on it, and photographs.
//
// Both are records that only grow. A condition is seen, and later it is good again; of each kind
// the last word counts. A photograph is put away, never deleted. Leaves out: what to do about it,
// which the hand decides, and what a mend is made with.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/instant.h"
#include "base/result.h"
#include "catalog/coil.h"

namespace coilbook {

// What one finds on used line. Plain words of the project's own.
enum class Wear {
    cracked_coating,
    hinge,  // bends sharply in one place, where line and loop or two lines meet
    kink,
    worn_loop,
    worn_through,  // the coating, down to the core: it may break under load
    other,         // told in the note
};
inline constexpr std::array all_wears{Wear::cracked_coating, Wear::hinge,        Wear::kink,
                                      Wear::worn_loop,       Wear::worn_through, Wear::other};

[[nodiscard]] std::string_view name_of(Wear wear);  // "cracked coating"
// A Problem (field `condition`) says which there are.
[[nodiscard]] Result<Wear> wear_from(std::string_view name);

// Somebody saw this on a coil, or that it is good again.
struct Condition {
    Id<Condition> id;
    Id<Coil> coil;
    Wear what;
    bool is_found = true;  // else: mended, or good again
    Instant at;
    std::string by;
    std::string note;

    bool operator==(const Condition&) const = default;
};

enum class PictureFormat { png, jpeg };
[[nodiscard]] std::string_view name_of(PictureFormat format);  // "png"
[[nodiscard]] Result<PictureFormat> picture_format_from(std::string_view name);

// The picture is known by its bytes' SHA-256; the catalogue keeps the bytes beside it.
struct Photograph {
    Id<Photograph> id;
    Id<Coil> coil;
    std::string sha256;  // 64 digits 0-9a-f
    PictureFormat format;
    int width = 0, height = 0;  // in pixels, as it is looked at
    std::int64_t size = 0;      // in bytes
    Instant at;                 // when it was put into the catalogue
    std::string by;
    std::string note;

    bool operator==(const Photograph&) const = default;
};

// The word that a photograph is not to be shown any more.
struct PutAway {
    Id<Photograph> id;  // of this word
    Id<Photograph> photograph;
    Instant at;
    std::string by;
    std::string note;
};

// What a catalogue takes in; more is refused, since every backup carries it along.
inline constexpr std::int64_t largest_picture_bytes = 8 * 1024 * 1024;
inline constexpr std::int64_t largest_picture_pixels = 40'000'000;

}  // namespace coilbook
