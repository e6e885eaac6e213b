// A sheet of labels: where on the paper each label lies.
//
// Everything is the sheet's own geometry, as its packet states it. What a printer adds (it may feed
// a sheet a millimetre off) is put into the margins after a trial print with outlines.
// Leaves out: round labels, and sheets on which labels are of different sizes.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "quantity/units.h"

namespace coilbook::labels {

// A sheet of paper, or a continuous roll, whose height is what is printed on it.
struct Paper {
    Length width;
    std::optional<Length> height;  // nothing: a roll

    bool operator==(const Paper&) const = default;
};

// Sources: ANSI/ASME Y14.1 size A, 8.5 in x 11 in; ISO 216 A4, 210 mm x 297 mm (both from memory).
[[nodiscard]] Paper letter_paper();
[[nodiscard]] Paper a4_paper();

// From the paper's left and top edges, to the right and down.
struct Place {
    Length x, y;

    bool operator==(const Place&) const = default;
};

struct Size {
    Length width, height;

    bool operator==(const Size&) const = default;
};

// Columns and rows of labels of one size. A roll has one label after the other, one to a page.
// Invariant of those that come from here: at least 1 x 1 labels of at least 8 mm x 6 mm, which lie
// on the paper, to 0.05 mm.
struct Sheet {
    Paper paper;
    int columns = 1;
    int rows = 1;
    Size label;
    Place first;  // the upper left corner of the first label
    Length gap_across, gap_down;

    bool operator==(const Sheet&) const = default;
};

// The sheets that are known by name: "letter-30" (3 x 10 of 2 5/8 in x 1 in), "letter-10" (2 x 5 of
// 4 in x 2 in), "a4-24" (3 x 8 of 70 mm x 37 mm), "a4-21" (3 x 7 of 63.5 mm x 38.1 mm), "roll-62"
// (62 mm x 29 mm), "flags-letter" and "flags-a4" (flags of 50 mm x 13 mm), "plain-letter" and
// "plain-a4" (2 x 6, to be cut). Common sizes of the paper trade; no published source.
struct NamedSheet {
    std::string_view name;
    Sheet sheet;
    std::string_view what;  // "3 x 10 labels of 2 5/8 in x 1 in on Letter"
};
[[nodiscard]] const std::vector<NamedSheet>& named_sheets();

// A name from above, or a sheet in words, separated by commas:
//     "a4, 3 x 8, label 63.5 mm x 34 mm, margin 7 mm x 12 mm, gap 2.5 mm x 0 mm"
//     "roll 62 mm, label 62 mm x 29 mm, gap 0 mm x 3 mm"
// First the paper: letter, a4, "roll WIDTH" or "WIDTH x HEIGHT". Without a margin the labels are in
// the middle; without a label's size they share the paper. A Problem for all else, and where the
// labels do not fit on the paper.
[[nodiscard]] Result<Sheet> sheet_from(std::string_view text);

// How many labels a page has: 1 on a roll.
[[nodiscard]] std::size_t labels_per_page(const Sheet& sheet);
// How high a page is; on a roll, a label and the gap after it.
[[nodiscard]] Length page_height(const Sheet& sheet);

// Which page, from 0, and where on it the label with that number (from 0) has its corner.
struct Cell {
    std::size_t page;
    Place corner;
};
[[nodiscard]] Cell cell(const Sheet& sheet, std::size_t number);

}  // namespace coilbook::labels
