// What befell a coil, and its photographs: noting them, and telling them.
//
// Each change is one act. A photograph comes out of a file of anybody's: it is read and decoded
// once before it is taken in, and its bytes are kept as they were.
#pragma once

#include <filesystem>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/table.h"
#include "app/workshop.h"
#include "catalog/coil_care.h"
#include "pictures/picture.h"

namespace coilbook::app {

// Notes what was seen on the coil or, without `is_found`, that it is good again. A Problem for
// 'other' without a note, for a note that is not plain text, and for what is said to be good again
// though nobody noted it.
[[nodiscard]] Result<void> note_condition(Workshop& workshop, const Coil& coil, Wear what,
                                          bool is_found, std::string_view note = {});
// What is wrong with the coil now, and everything that was noted, the oldest first. Throw Error.
[[nodiscard]] std::vector<Condition> conditions_now(Workshop& workshop, const Coil& coil);
[[nodiscard]] std::vector<Condition> all_conditions(Workshop& workshop, const Coil& coil);

// What a picture's bytes say of it. A Problem (field `photograph`) where they are no PNG or JPEG
// that can be shown, or too large: such a one is not kept.
struct PictureFacts {
    std::string sha256;
    pictures::PictureHead head;
    std::int64_t size;  // in bytes
};
[[nodiscard]] Result<PictureFacts> picture_facts(std::string_view bytes);

// Takes in the photograph in `file`: PNG or JPEG, of at most 8 MiB and 40 million pixels. A Problem
// for anything else, for what cannot be read or is damaged, and for a picture that the coil has
// already; where the bytes of that one were lost or damaged in the catalogue, they are back.
[[nodiscard]] Result<Photograph> add_photograph(Workshop& workshop, const Coil& coil,
                                                const std::filesystem::path& file,
                                                std::string_view note = {});
// A Problem for one that the coil does not show (any more).
[[nodiscard]] Result<void> put_photograph_away(Workshop& workshop, const Coil& coil,
                                               const Id<Photograph>& photograph);
// Those of a coil that were not put away, the last one first. Throws Error.
[[nodiscard]] std::vector<Photograph> photographs_of(Workshop& workshop, const Coil& coil);
// The one whose id begins so, or the last one for an empty text. A Problem where there is none, or
// more than one.
[[nodiscard]] Result<Photograph> photograph_called(Workshop& workshop, const Coil& coil,
                                                   std::string_view id);
// As it is to be shown, no side longer than `longest`. Throws Error where its bytes were altered.
[[nodiscard]] Result<pictures::Picture> picture_of(Workshop& workshop, const Photograph& photograph,
                                                   int longest);
// Its bytes into a new file. A Problem where that is there already.
[[nodiscard]] Result<void> save_photograph(Workshop& workshop, const Photograph& photograph,
                                           const std::filesystem::path& file);

// Rows, the last first: at, condition, state (`found` or `good again`), by, note.
void write_conditions(Workshop& workshop, const Coil& coil, std::ostream& out, Format format,
                      std::size_t terminal_width = 0);
// Rows, the last first: id, at, by, format, width, height, size, note.
void write_photographs(Workshop& workshop, const Coil& coil, std::ostream& out, Format format,
                       std::size_t terminal_width = 0);

}  // namespace coilbook::app
