// Labels as files: sheets in a PDF, one label as PNG or SVG, and the page that explains the marks.
//
// All give the bytes of the file. Fonts are embedded in a PDF, so it prints alike everywhere, and
// its text can be searched; an SVG has its letters as outlines. Throw Error where a label cannot be
// drawn: a code that no QR code holds, or no memory.
#pragma once

#include <functional>
#include <span>
#include <string>

#include "labels/label.h"
#include "labels/sheet.h"

namespace coilbook::labels {

struct SheetOptions {
    std::size_t first_cell = 0;  // from 0: cells before it were used up
    Shape shape = Shape::label;
    bool outlines = false;  // a hairline round every cell, to try a sheet on plain paper
};

// As many pages as are needed, the cells in rows. On a roll every label is a page. `drawn`, if
// there is one, is called with how many labels are; what it throws passes, and there is no file.
// REQUIRES: first_cell < labels_per_page(sheet).
[[nodiscard]] std::string sheets_pdf(const Sheet& sheet, std::span<const LabelContent> labels,
                                     const SheetOptions& options = {},
                                     const std::function<void(std::size_t)>& drawn = {});

// One label of that size. `dots_per_inch` is 50 … 1200.
[[nodiscard]] std::string label_png(const LabelContent& label, const Size& size, Shape shape,
                                    int dots_per_inch);
[[nodiscard]] std::string label_svg(const LabelContent& label, const Size& size, Shape shape);
[[nodiscard]] std::string label_pdf(const LabelContent& label, const Size& size, Shape shape);

// One page that explains the loop marks, to hang up in the boat or the shed.
[[nodiscard]] std::string mark_key_pdf(const Paper& paper);

}  // namespace coilbook::labels
