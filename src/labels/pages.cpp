#include "labels/pages.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fmt/format.h>

#include <algorithm>

#include "labels/canvas.h"
#include "labels/label_drawing.h"

namespace coilbook::labels {
namespace {

constexpr double margin = 15.0;  // mm
constexpr double row_height = 11.0;

double mm(Length length) {
    return length.in(millimetre);
}

std::string pdf_of(double width, double height, const char* title,
                   const std::function<void(Canvas&)>& draw) {
    return bytes_drawn(
        [=](cairo_write_func_t write, void* closure) {
            auto* surface = cairo_pdf_surface_create_for_stream(
                write, closure, width * points_per_mm, height * points_per_mm);
            cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
            cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "Coilbook");
            return surface;
        },
        [&](cairo_surface_t* surface) {
            Canvas canvas(surface, points_per_mm);
            draw(canvas);
        });
}

// A packing list on its way down the pages.
class Packing {
  public:
    Packing(Canvas& canvas, const PackingList& list, const Box& page)
        : canvas_(canvas), list_(list), page_(page), room_(page.inset(margin)) {}

    void draw() {
        head();
        for (const auto& warning : list_.warnings) {
            canvas_.outline({room_.x, y_, 6.0, 6.0}, 0.4);
            canvas_.line("!", {room_.x, y_, 6.0, 6.0},
                         {.size = 4.6, .weight = Weight::bold, .align = Align::middle});
            y_ += std::max(7.0, canvas_.paragraph(warning, {room_.x + 8, y_, room_.width - 8, 30},
                                                  {.size = 3.9, .weight = Weight::medium}) +
                                    2.0);
        }
        for (const auto& row : list_.rows) draw_row(row);
        draw_cautions();
        foot();
    }

  private:
    void head() {
        canvas_.line(list_.title, {room_.x, y_, room_.width, 9.0},
                     {.size = 7.0, .weight = Weight::bold});
        y_ += 10.0;
        if (page_number_ == 1 && !list_.who.empty()) {
            canvas_.line(list_.who, {room_.x, y_, room_.width, 5.5}, {.size = 4.0});
            y_ += 7.0;
        }
        y_ += 1.5;
    }
    void foot() {
        const auto ticked = std::ranges::count_if(list_.rows, &PackingRow::is_ticked);
        canvas_.line(fmt::format("{} of {} ticked.", ticked, list_.rows.size()),
                     {room_.x, page_.bottom() - margin + 3, room_.width - 20, 5}, {.size = 3.0});
        canvas_.line(fmt::format("{}", page_number_),
                     {room_.right() - 20, page_.bottom() - margin + 3, 20, 5},
                     {.size = 3.4, .align = Align::right});
        cairo_show_page(canvas_.cairo());
    }
    void make_room(double height) {
        if (y_ + height <= room_.bottom()) return;
        foot();
        ++page_number_;
        y_ = room_.y;
        head();
    }
    // Together, below the rows.
    void draw_cautions() {
        constexpr double line = 5.4;
        make_room(6.0 + line * static_cast<double>(list_.cautions.size()));
        y_ += 6.0;
        for (const auto& caution : list_.cautions) {
            canvas_.line(caution, {room_.x, y_, room_.width, line}, {.size = 3.6});
            y_ += line;
        }
    }
    void draw_row(const PackingRow& row) {
        make_room(row_height);
        const double x = room_.x + (row.is_within ? 9.0 : 0.0);
        const Box box{x, y_ + 2.2, 5.6, 5.6};
        canvas_.outline(box, 0.4);
        if (row.is_ticked) {
            canvas_.stroke(box.x + 1.0, box.y + 2.8, box.x + 2.4, box.y + 4.4, 0.8);
            canvas_.stroke(box.x + 2.4, box.y + 4.4, box.x + 5.0, box.y + 0.9, 0.8);
        }
        if (!row.code.empty()) {
            draw_qr(canvas_, row.code, {x + 7.5, y_ - 0.4, row_height, row_height});
        }
        const double words = x + 20.0;
        canvas_.line(row.code, {words, y_ + 1.0, 38.0, row_height - 2},
                     {.size = 5.4, .weight = Weight::bold});
        canvas_.line(row.what, {words + 40, y_ + 1.0, room_.right() - words - 40, row_height - 2},
                     {.size = 3.9});
        canvas_.stroke(x, y_ + row_height, room_.right(), y_ + row_height, 0.15);
        y_ += row_height + 0.6;
    }

    Canvas& canvas_;
    const PackingList& list_;
    Box page_, room_;
    double y_ = room_.y;
    int page_number_ = 1;
};

// Bars of four kinds: full, hatched, dotted, empty.
void draw_bar(Canvas& canvas, const Box& box, std::size_t kind) {
    auto* cairo = canvas.cairo();
    if (kind == 0) canvas.fill(box);
    cairo_save(cairo);
    cairo_rectangle(cairo, box.x, box.y, box.width, box.height);
    cairo_clip(cairo);
    if (kind == 1) {
        for (double x = box.x - box.height; x < box.right(); x += 1.3) {
            canvas.stroke(x, box.bottom(), x + box.height, box.y, 0.35);
        }
    }
    if (kind == 2) {
        for (double x = box.x + 0.8; x < box.right(); x += 1.6) {
            canvas.dot(x, box.y + box.height / 3, 0.35);
            canvas.dot(x + 0.8, box.y + 2 * box.height / 3, 0.35);
        }
    }
    cairo_restore(cairo);
    canvas.outline(box, 0.25);
}

constexpr double plot_width = 190.0, name_width = 58.0, bar_height = 6.0, bar_pitch = 8.0;

double plot_height(const BarPlot& plot) {
    return 34.0 + bar_pitch * static_cast<double>(plot.rows.size()) + 10.0;
}

void draw_plot(Canvas& canvas, const BarPlot& plot) {
    const double height = plot_height(plot);
    canvas.fill_white({0, 0, plot_width, height});
    canvas.line(plot.title, {8, 6, plot_width - 16, 8}, {.size = 5.6, .weight = Weight::bold});
    double x = 8.0;
    for (std::size_t kind = 0; kind < plot.kinds.size(); ++kind) {
        draw_bar(canvas, {x, 17.5, 8, 4}, kind);
        const Type type{.size = 3.6};
        canvas.line(plot.kinds[kind], {x + 10, 16.5, 40, 6}, type);
        x += 16.0 + canvas.extent(plot.kinds[kind], type).width;
    }
    int most = 1;
    for (const auto& row : plot.rows) {
        int sum = 0;
        for (const int count : row.counts) sum += count;
        most = std::max(most, sum);
    }
    const double left = 8.0 + name_width;
    const double per_count = (plot_width - left - 22.0) / most;
    double y = 27.0;
    canvas.stroke(left, y - 1.5, left, y + bar_pitch * static_cast<double>(plot.rows.size()), 0.25);
    for (const auto& row : plot.rows) {
        canvas.line(row.name, {8, y, name_width - 3, bar_height},
                    {.size = 3.8, .weight = Weight::medium, .align = Align::right});
        double at = left;
        int sum = 0;
        for (std::size_t kind = 0; kind < row.counts.size(); ++kind) {
            const double width = row.counts[kind] * per_count;
            if (width > 0) draw_bar(canvas, {at, y, width, bar_height}, kind);
            at += width;
            sum += row.counts[kind];
        }
        canvas.line(fmt::format("{}", sum), {at + 2, y, 18, bar_height},
                    {.size = 3.8, .weight = Weight::bold});
        y += bar_pitch;
    }
    canvas.line(plot.note, {8, height - 9, plot_width - 16, 5}, {.size = 3.0});
    cairo_show_page(canvas.cairo());
}

}  // namespace

std::string packing_pdf(const PackingList& list, const Paper& paper) {
    const double width = mm(paper.width);
    const double height = mm(paper.height.value_or(paper.width * 1.4));
    return pdf_of(width, height, "Packing list", [&](Canvas& canvas) {
        Packing(canvas, list, {0, 0, width, height}).draw();
    });
}

std::string bar_plot(const BarPlot& plot, PlotFile file) {
    const double height = plot_height(plot);
    if (file == PlotFile::pdf) {
        return pdf_of(plot_width, height, "Coilbook",
                      [&](Canvas& canvas) { draw_plot(canvas, plot); });
    }
    return bytes_drawn(
        [&](cairo_write_func_t write, void* closure) {
            auto* surface = cairo_svg_surface_create_for_stream(
                write, closure, plot_width * points_per_mm, height * points_per_mm);
            cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_PT);
            return surface;
        },
        [&](cairo_surface_t* surface) {
            Canvas canvas(surface, points_per_mm);
            draw_plot(canvas, plot);
        });
}

}  // namespace coilbook::labels
