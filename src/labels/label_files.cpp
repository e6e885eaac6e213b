#include "labels/label_files.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fmt/format.h>

#include <array>
#include <cassert>
#include <cmath>

#include "base/error.h"
#include "labels/canvas.h"
#include "labels/label_drawing.h"

namespace coilbook::labels {
namespace {

double mm(Length length) {
    return length.in(millimetre);
}

double points(Length length) {
    return mm(length) * points_per_mm;
}

std::string pdf_drawn(double width_points, double height_points, const char* title,
                      const std::function<void(cairo_surface_t*)>& draw) {
    return bytes_drawn(
        [=](cairo_write_func_t write, void* closure) {
            auto* surface =
                cairo_pdf_surface_create_for_stream(write, closure, width_points, height_points);
            cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
            cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "Coilbook");
            return surface;
        },
        draw);
}

void draw(Canvas& canvas, const LabelContent& label, Shape shape, const Box& box) {
    // What is drawn stays inside the label, whatever the words are.
    cairo_save(canvas.cairo());
    cairo_rectangle(canvas.cairo(), box.x, box.y, box.width, box.height);
    cairo_clip(canvas.cairo());
    switch (shape) {
        case Shape::label:
            draw_label(canvas, label, box);
            break;
        case Shape::flag:
            draw_flag(canvas, label, box);
            break;
    }
    cairo_restore(canvas.cairo());
}

Box box_of(const Sheet& sheet, const Place& corner) {
    return {mm(corner.x), mm(corner.y), mm(sheet.label.width), mm(sheet.label.height)};
}

void draw_outlines(Canvas& canvas, const Sheet& sheet) {
    for (std::size_t number = 0; number < labels_per_page(sheet); ++number) {
        canvas.outline(box_of(sheet, cell(sheet, number).corner), 0.1);
    }
}

// The parts of the key, in mm on the page.
class Key {
  public:
    Key(Canvas& canvas, const Box& room) : canvas_(canvas), room_(room) {}

    void heading(std::string_view text, double size) {
        canvas_.line(text, {room_.x, y_, room_.width, size * 1.3},
                     {.size = size, .weight = Weight::bold});
        y_ += size * 1.7;
    }
    void words(std::string_view text) {
        y_ += canvas_.paragraph(text, {room_.x, y_, room_.width, 40.0}, {.size = 3.9}) + 2.2;
    }
    // Rows of a drawing with words beside it, in columns one beside the other.
    struct Row {
        LoopMark mark;
        int first_band, bands;  // which of its bands are shown; 0 bands: all
        std::string words;
    };
    void rows(const std::vector<Row>& rows, int columns, double height) {
        const double width = room_.width / columns;
        const auto per_column = (static_cast<int>(rows.size()) + columns - 1) / columns;
        for (std::size_t at = 0; at < rows.size(); ++at) {
            const int column = static_cast<int>(at) / per_column;
            const int row = static_cast<int>(at) % per_column;
            draw_row(rows[at], {room_.x + column * width, y_ + row * height, width, height});
        }
        y_ += per_column * height + 3.0;
    }

  private:
    void draw_row(const Row& row, const Box& box) {
        auto bands = bands_of(row.mark);
        if (row.bands > 0) {
            bands = {bands.begin() + row.first_band, bands.begin() + row.first_band + row.bands};
            draw_bands(bands, {box.x, box.y, 34.0, box.height});
            canvas_.line(row.words, {box.x + 36.0, box.y, box.width - 37.0, box.height},
                         {.size = 3.9, .weight = Weight::medium});
            return;
        }
        draw_mark(canvas_, row.mark, {box.x, box.y + 0.25 * box.height, 68.0, 0.5 * box.height});
        canvas_.line(row.words, {box.x + 72.0, box.y, box.width - 72.0, box.height},
                     {.size = 3.9, .weight = Weight::medium});
    }
    // One group by itself, on a piece of line.
    void draw_bands(const std::vector<PlacedBand>& bands, const Box& box) {
        constexpr double thick = 2.4;
        const double middle = box.y + box.height / 2;
        const double first = mm(bands.front().start);
        canvas_.stroke(box.x, middle - thick / 2, box.right() - 2, middle - thick / 2, 0.2);
        canvas_.stroke(box.x, middle + thick / 2, box.right() - 2, middle + thick / 2, 0.2);
        for (const auto& band : bands) {
            const double x = box.x + 3.0 + mm(band.start) - first;
            if (band.band == PenBand::spot) {
                canvas_.dot(x + mm(band.width) / 2, middle, 0.75);
            } else {
                canvas_.fill({x, middle - thick / 2, mm(band.width), thick});
            }
        }
    }

    Canvas& canvas_;
    Box room_;
    double y_ = room_.y;
};

int bands_in_first_group(const LoopMark& mark) {
    const auto with_light = bands_of({mark.grade, 0});
    return static_cast<int>(with_light.size()) - 1;  // a weight of nought is one spot
}

std::vector<Key::Row> grade_rows() {
    std::vector<Key::Row> rows;
    const auto add = [&](DensityGrade grade, const std::string& words) {
        const LoopMark mark{grade, 0};
        rows.push_back({mark, 0, bands_in_first_group(mark), words});
    };
    add(DensityGrade::floating(), "floats");
    add(DensityGrade::intermediate(), "intermediate");
    for (int type = 1; type <= 8; ++type) {
        const auto grade = DensityGrade::type(type);
        add(grade, fmt::format("{}: {} to {} in/s", name_of(grade), type, type + 1));
    }
    return rows;
}

std::vector<Key::Row> weight_rows() {
    constexpr std::array<const char*, 8> known{"", "T-8", "T-11", "T-14", "T-17", "T-20", "", ""};
    std::vector<Key::Row> rows;
    for (int step = 0; step <= 7; ++step) {
        const LoopMark mark{DensityGrade::intermediate(), step};
        const auto bands = static_cast<int>(bands_of(mark).size()) - 1;
        auto words = weight_range(step);
        const std::string name = known[static_cast<std::size_t>(step)];
        if (!name.empty()) words += " (" + name + ")";
        rows.push_back({mark, 1, bands, words});
    }
    return rows;
}

void draw_key(Canvas& canvas, const Box& page) {
    Key key(canvas, page.inset(17.0));
    key.heading("Loop marks", 9.0);
    key.words(
        "Bands of waterproof pen round the line tell a tip in the hand. Read from the loop "
        "outwards. "
        "A narrow band counts one, a wide band, three times as wide, counts three. A spot that "
        "does "
        "not go round is nought. The pen's colour says nothing: take one that shows.");
    key.heading("First group: how fast it sinks", 5.2);
    key.rows(grade_rows(), 2, 7.2);
    key.heading("After the long gap: how heavy it is", 5.2);
    key.words("The first step is 8 grains a foot, and each further one 3 grains a foot more.");
    key.rows(weight_rows(), 2, 7.2);
    key.heading("Four tips", 5.2);
    key.rows({{{DensityGrade::type(6), 2}, 0, 0, "type 6, about 11 gr/ft"},
              {{DensityGrade::type(3), 1}, 0, 0, "type 3, about 8 gr/ft"},
              {{DensityGrade::type(8), 3}, 0, 0, "type 8, about 14 gr/ft"},
              {{DensityGrade::intermediate(), 0}, 0, 0, "intermediate, light"}},
             1, 9.0);
    key.words(
        "How to draw it: begin 2 mm from the loop's weld or knot. Narrow 2 mm, wide 6 mm, 2 mm "
        "between bands, 10 mm between the groups. Dry the line first, let the ink dry, draw it "
        "again "
        "each season.");
    key.words(
        "Wide is three here, not five. The grade is a name and the weight a step: the label and "
        "the "
        "catalogue have the figures. Some waters forbid sinking lines: check the local "
        "regulations.");
}

}  // namespace

std::string sheets_pdf(const Sheet& sheet, std::span<const LabelContent> labels,
                       const SheetOptions& options, const std::function<void(std::size_t)>& drawn) {
    assert(options.first_cell < labels_per_page(sheet) && "a cell of the sheet");
    const auto draw_all = [&](cairo_surface_t* surface) {
        Canvas canvas(surface, points_per_mm);
        std::size_t page = 0;
        if (options.outlines) draw_outlines(canvas, sheet);
        for (std::size_t at = 0; at < labels.size(); ++at) {
            const auto place = cell(sheet, options.first_cell + at);
            if (place.page != page) {
                cairo_show_page(canvas.cairo());
                page = place.page;
                if (options.outlines) draw_outlines(canvas, sheet);
            }
            const auto box = box_of(sheet, place.corner);
            draw(canvas, labels[at], options.shape, box);
            if (options.outlines) canvas.outline(box, 0.1);
            if (drawn) drawn(at + 1);
        }
        cairo_show_page(canvas.cairo());
    };
    return pdf_drawn(points(sheet.paper.width), points(page_height(sheet)), "Labels", draw_all);
}

std::string label_png(const LabelContent& label, const Size& size, Shape shape, int dots_per_inch) {
    assert(dots_per_inch >= 50 && dots_per_inch <= 1200);
    const double per_mm = dots_per_inch / 25.4;
    const auto pixels = [&](Length length) {
        return static_cast<int>(std::lround(mm(length) * per_mm));
    };
    const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels(size.width), pixels(size.height)),
        &cairo_surface_destroy);
    check(surface.get());
    {
        Canvas canvas(surface.get(), per_mm);
        const Box box{0, 0, mm(size.width), mm(size.height)};
        canvas.fill_white(box.inset(-1.0));
        draw(canvas, label, shape, box);
    }
    check(surface.get());
    std::string bytes;
    const auto keep = [](void* into, const unsigned char* data, unsigned int length) {
        static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    };
    if (cairo_surface_write_to_png_stream(surface.get(), keep, &bytes) != CAIRO_STATUS_SUCCESS) {
        throw Error("drawing a label: no picture could be made");
    }
    return bytes;
}

namespace {

// One label alone on a page of its own size.
std::function<void(cairo_surface_t*)> alone(const LabelContent& label, const Size& size,
                                            Shape shape) {
    return [&label, size, shape](cairo_surface_t* surface) {
        Canvas canvas(surface, points_per_mm);
        draw(canvas, label, shape, {0, 0, mm(size.width), mm(size.height)});
        cairo_show_page(canvas.cairo());
    };
}

}  // namespace

std::string label_svg(const LabelContent& label, const Size& size, Shape shape) {
    return bytes_drawn(
        [&](cairo_write_func_t write, void* closure) {
            auto* surface = cairo_svg_surface_create_for_stream(write, closure, points(size.width),
                                                                points(size.height));
            cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_PT);
            return surface;
        },
        alone(label, size, shape));
}

std::string label_pdf(const LabelContent& label, const Size& size, Shape shape) {
    return pdf_drawn(points(size.width), points(size.height), "Label", alone(label, size, shape));
}

std::string mark_key_pdf(const Paper& paper) {
    const Length height = paper.height.value_or(paper.width * 1.4);
    return pdf_drawn(points(paper.width), points(height), "Loop marks",
                     [&](cairo_surface_t* surface) {
                         Canvas canvas(surface, points_per_mm);
                         draw_key(canvas, {0, 0, mm(paper.width), mm(height)});
                         cairo_show_page(canvas.cairo());
                     });
}

}  // namespace coilbook::labels
