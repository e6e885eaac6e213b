// Labels of coils and rigs: what is known of each, in few words, on a sheet, a flag or a picture.
//
// The QR code holds the coil's plain code: a scanner that types finds the coil in the window, and
// any telephone shows the code itself. A label carries no person's name: notes are on it only when
// they are asked for.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "app/bin.h"
#include "app/workshop.h"
#include "labels/label.h"
#include "labels/sheet.h"
#include "quantity/unit_set.h"

namespace coilbook::app {

// What the label of that coil says: what it was confirmed as, else the best class with a "?",
// unless nothing is known; its density grade where the name does not say it; length, weight and
// weight per foot or metre as far as they were read, still-water sink rate, and the loop mark where
// grade and weight are known. An uncertain class has no mark.
[[nodiscard]] labels::LabelContent label_of(Bin& bin, std::size_t at, bool with_notes,
                                            const Units& units = grains_and_feet);

struct LabelRequest {
    std::vector<std::string> codes;  // of coils and rigs, as a person types them
    bool all = false;                // every coil of the bin instead
    std::vector<std::string> blank;  // codes of things that are not in the catalogue yet
    bool with_notes = false;
    Units units = grains_and_feet;  // of the numbers on them
    labels::Shape shape = labels::Shape::label;
    labels::Sheet sheet;
    std::size_t first_cell = 0;  // from 0
    bool outlines = false;
    std::filesystem::path out;  // .pdf, or for a single label .png or .svg
    int dots_per_inch = 300;    // of a PNG
};

struct LabelsMade {
    std::size_t labels = 0;
    std::size_t pages = 0;

    bool operator==(const LabelsMade&) const = default;
};

// Writes the file, in place of one that is there. A Problem, and nothing is written, for a code
// that no coil has, no coil at all, a cell that the sheet does not have, an ending that is none of
// the three, and more than one label for a picture. Throws Error where the file cannot be written.
// The workshop's progress is told how far it is; broken off, nothing is written.
[[nodiscard]] Result<LabelsMade> write_labels(Workshop& workshop, const LabelRequest& request);

// The sheet that labels are printed on where nobody says: Letter, 3 x 10.
[[nodiscard]] labels::Sheet usual_label_sheet();
// A name for the file of the label of a code, or of a sheet of "3 coils", beside the catalogue; no
// file has it yet. Throws Error as picture_place() does.
[[nodiscard]] std::filesystem::path label_place(Workshop& workshop, std::string_view of_what);

// Writes the label of one coil or rig, without its notes, as a PDF of 62 mm x 29 mm beside the
// catalogue; gives the file. A Problem for a code that nothing has.
[[nodiscard]] Result<std::filesystem::path> save_label(Workshop& workshop, std::string_view code,
                                                       const Units& units = grains_and_feet);

// Writes `bytes`, in place of a file that is there; throws Error where that cannot be done.
void write_file(const std::filesystem::path& file, const std::string& bytes);

}  // namespace coilbook::app
