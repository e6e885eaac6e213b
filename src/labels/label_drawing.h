// A label, drawn into its place. For the files of this folder only.
#pragma once

#include "labels/canvas.h"
#include "labels/label.h"

namespace coilbook::labels {

// The label on a white ground that fills the box. What there is no room for is left out, the least
// needed first: notes, then the mark, then the figures from the last on; code and QR code stay.
// REQUIRES: the code can be in a QR code (qr.h).
void draw_label(Canvas& canvas, const LabelContent& content, const Box& box);

// The flag: a half for either side of the line, a fold between them.
void draw_flag(Canvas& canvas, const LabelContent& content, const Box& box);

// The loop, the line and the pen bands, true to size where the box is wide enough, else smaller.
void draw_mark(Canvas& canvas, const LoopMark& mark, const Box& box);

// The square with its quiet zone, as large as the box allows, in its upper left corner.
void draw_qr(Canvas& canvas, const std::string& text, const Box& box);

}  // namespace coilbook::labels
