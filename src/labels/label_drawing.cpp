#include "labels/label_drawing.h"

#include <algorithm>
#include <cmath>

#include "base/error.h"
#include "labels/qr.h"

namespace coilbook::labels {
namespace {

// Sizes in mm. 1.9 mm of type (5.4 points) is the smallest that a label of this kind can have and
// still be read in the hand; common practice, no published source.
constexpr double smallest_type = 1.9;
constexpr double line_height = 1.22;  // of the type's size
constexpr double largest_code = 16.0;
constexpr double capital_height = 0.727;  // of Inter's size, as its OS/2 table has it

// Capitals and figures, as large as the box allows, standing on its bottom or in its middle.
enum class Stands { on_the_bottom, in_the_middle };
void draw_code(Canvas& canvas, const std::string& code, const Box& box,
               Stands stands = Stands::on_the_bottom) {
    Type type{.weight = Weight::bold, .letter_spacing = 0.03};
    type.size =
        canvas.fitting_size(code, box, type, std::min(largest_code, box.height / capital_height));
    const auto extent = canvas.extent(code, type);
    // Letters below the line, as in a person's own code, may reach into the gap below.
    const double spare =
        stands == Stands::in_the_middle ? box.height - type.size * capital_height : 0;
    const double top = box.bottom() - spare / 2 - extent.baseline;
    canvas.line(code, {box.x, top, box.width * 1.1, extent.height}, type);
}

// Of four letters and figures or more, without marks between them that could be lost at the end of
// a line.
bool can_be_halved(const std::string& code) {
    return code.size() >= 4 && code.size() <= 8 && std::ranges::all_of(code, [](char c) {
               return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
           });
}

// A line of the column beside the QR code, and how much of the height it would like.
struct Item {
    enum class Kind { code, name, figure, mark, notes } kind;
    double share;
    double at_least;
    const std::string* text = nullptr;
};

std::vector<Item> items_of(const LabelContent& content, double height) {
    std::vector<Item> items{{Item::Kind::code, 4.2, 4.0, &content.code}};
    const double line = smallest_type * line_height;
    if (!content.name.empty()) items.push_back({Item::Kind::name, 2.1, line, &content.name});
    for (const auto& figure : content.figures) {
        items.push_back({Item::Kind::figure, 1.45, line, &figure});
    }
    if (content.mark) items.push_back({Item::Kind::mark, 1.6, 2.6});
    if (!content.notes.empty()) {
        items.push_back({Item::Kind::notes, height > 30 ? 3.4 : 1.4, line, &content.notes});
    }
    return items;
}

double least_height(const std::vector<Item>& items) {
    double height = 0;
    for (const auto& item : items) height += item.at_least;
    return height;
}

// Leaves out what is least needed until the rest can have its least height.
void make_fit(std::vector<Item>& items, double height) {
    while (items.size() > 1 && least_height(items) > height) {
        auto least_needed = items.end() - 1;  // notes or the mark, else the last line
        items.erase(least_needed);
    }
}

void draw_item(Canvas& canvas, const LabelContent& content, const Item& item, const Box& box) {
    Type type;
    switch (item.kind) {
        case Item::Kind::code:
            return draw_code(canvas, *item.text, {box.x, box.y, box.width, 0.86 * box.height});
        case Item::Kind::name:
            type.weight = Weight::bold;
            break;
        case Item::Kind::figure:
            type.weight = Weight::medium;
            break;
        case Item::Kind::mark:
            return draw_mark(canvas, *content.mark,
                             {box.x, box.y, box.width, std::min(box.height, 6.0)});
        case Item::Kind::notes: {
            type.size = std::clamp(box.height / line_height, smallest_type, 2.4);
            canvas.paragraph(*item.text, box, type);
            return;
        }
    }
    const double most = std::min(box.height / line_height, 7.0);
    type.size = std::max(smallest_type, canvas.fitting_size(*item.text, box, type, most));
    canvas.line(*item.text, box, type);
}

}  // namespace

void draw_qr(Canvas& canvas, const std::string& text, const Box& box) {
    const auto square = qr_of(text);
    if (!square) throw Error("drawing a QR code: " + to_line(square.error()));
    const double side = std::min(box.width, box.height);
    const double module = side / (square->side + 2 * quiet_zone);
    auto* cairo = canvas.cairo();
    // One path of whole runs: no seams between modules.
    for (int row = 0; row < square->side; ++row) {
        for (int column = 0; column < square->side;) {
            int run = 0;
            while (column + run < square->side && square->is_dark(column + run, row)) ++run;
            if (run > 0) {
                cairo_rectangle(cairo, box.x + (column + quiet_zone) * module,
                                box.y + (row + quiet_zone) * module, run * module, module);
            }
            column += std::max(run, 1);
        }
    }
    cairo_fill(cairo);
}

void draw_mark(Canvas& canvas, const LoopMark& mark, const Box& box) {
    const auto bands = bands_of(mark);
    const double marked = length_of(bands).in(millimetre);
    constexpr double loop = 5.0, weld = 2.0, tail = 4.0;
    const double scale = std::min(1.0, box.width / (loop + weld + marked + tail));
    const double thick = std::clamp(0.45 * box.height, 0.9, 2.0);
    const double middle = box.y + box.height / 2;
    const double start = box.x + loop * scale;
    const double end = start + (weld + marked + tail) * scale;
    canvas.ring(start, middle, loop * scale, std::min(box.height, 2.6) * 0.9, 0.35);
    // The line is open at its far end, where it goes on.
    canvas.stroke(start, middle - thick / 2, end, middle - thick / 2, 0.2);
    canvas.stroke(start, middle + thick / 2, end, middle + thick / 2, 0.2);
    canvas.stroke(start, middle - thick / 2, start, middle + thick / 2, 0.2);
    for (const auto& band : bands) {
        const double x = start + (weld + band.start.in(millimetre)) * scale;
        const double width = band.width.in(millimetre)*scale;
        if (band.band == PenBand::spot) {
            canvas.dot(x + width / 2, middle, std::min(0.3 * thick, width / 2));
        } else {
            canvas.fill({x, middle - thick / 2, width, thick});
        }
    }
}

void draw_label(Canvas& canvas, const LabelContent& content, const Box& box) {
    canvas.fill_white(box);
    const double edge = std::clamp(0.065 * box.height, 0.5, 2.5);
    // The quiet zone is light, so it is a margin, too.
    const double square = std::min(box.height - 2 * 0.4, 0.42 * box.width);
    draw_qr(canvas, content.code, {box.x + 0.4, box.y + (box.height - square) / 2, square, square});
    const Box column{box.x + 0.4 + square + 0.4, box.y + edge,
                     box.width - square - 0.8 - std::max(edge, 1.2), box.height - 2 * edge};
    auto items = items_of(content, column.height);
    make_fit(items, column.height);
    double shares = 0;
    for (const auto& item : items) shares += item.share;
    // Everything has its least height, and what is over goes by shares.
    const double over = column.height - least_height(items);
    double y = column.y;
    for (const auto& item : items) {
        const double height = item.at_least + std::max(0.0, over) * item.share / shares;
        draw_item(canvas, content, item, {column.x, y, column.width, height});
        y += height;
    }
}

void draw_flag(Canvas& canvas, const LabelContent& content, const Box& box) {
    canvas.fill_white(box);
    // Round a line of up to 2 mm, and some for the hand.
    constexpr double wrap = 7.0;
    const double half = (box.width - wrap) / 2;
    const double fold = box.x + box.width / 2;
    const double tick = 0.18 * box.height;
    canvas.stroke(fold, box.y, fold, box.y + tick, 0.2, true);
    canvas.stroke(fold, box.bottom() - tick, fold, box.bottom(), 0.2, true);
    const double square = std::min(box.height - 0.6, 0.6 * half);
    draw_qr(canvas, content.code, {box.x + 0.3, box.y + (box.height - square) / 2, square, square});
    const auto words = [&](const Box& room) {
        const bool has_name = !content.name.empty() && room.height > 6;
        const double code = has_name ? 0.58 * room.height : room.height;
        draw_code(canvas, content.code, {room.x, room.y, room.width, 0.85 * code});
        if (!has_name) return;
        const Box below{room.x, room.y + code, room.width, room.height - code};
        Type type{.weight = Weight::medium};
        type.size = std::max(smallest_type, canvas.fitting_size(content.name, below, type,
                                                                below.height / line_height));
        canvas.line(content.name, below, type);
    };
    const double top = box.y + 0.12 * box.height;
    const double height = 0.76 * box.height;
    // Beside the square there is little room: a longer code stands there in two lines.
    const Box beside{box.x + square + 0.6, top, half - square - 1.2, height};
    if (can_be_halved(content.code)) {
        const double line = 0.44 * height;
        const auto half_of_it = (content.code.size() + 1) / 2;
        draw_code(canvas, content.code.substr(0, half_of_it),
                  {beside.x, beside.y, beside.width, line});
        draw_code(canvas, content.code.substr(half_of_it),
                  {beside.x, beside.bottom() - line, beside.width, line});
    } else {
        draw_code(canvas, content.code, beside, Stands::in_the_middle);
    }
    words({box.x + half + wrap, top, half - 1.2, height});
}

}  // namespace coilbook::labels
