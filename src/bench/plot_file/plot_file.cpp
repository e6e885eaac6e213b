#include "bench/plot_file/plot_file.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <memory>

#include "base/error.h"
#include "bench/plot_file/cairo_pen.h"
#include "bench/widgets/plot_picture.h"

namespace coilbook::bench {
namespace {

struct Destroy {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};
using Surface = std::unique_ptr<cairo_surface_t, Destroy>;

constexpr double points_per_pixel = 0.75;  // 72 points and 96 pixels an inch
constexpr int png_scale = 2;
constexpr float rim = 16;  // free, all round

Surface surface_for(const std::filesystem::path& file, PictureKind kind, int pixels_high) {
    const double width = picture_width * points_per_pixel;
    const double height = pixels_high * points_per_pixel;
    switch (kind) {
        case PictureKind::svg:
            return Surface(cairo_svg_surface_create(file.c_str(), width, height));
        case PictureKind::pdf:
            return Surface(cairo_pdf_surface_create(file.c_str(), width, height));
        case PictureKind::png:
            break;
    }
    return Surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture_width * png_scale,
                                              pixels_high * png_scale));
}

void check(cairo_status_t status, const std::filesystem::path& file) {
    if (status == CAIRO_STATUS_SUCCESS) return;
    throw Error("writing the picture " + file.string() + ": " + cairo_status_to_string(status));
}

}  // namespace

std::string_view ending_of(PictureKind kind) {
    switch (kind) {
        case PictureKind::svg:
            return ".svg";
        case PictureKind::pdf:
            return ".pdf";
        case PictureKind::png:
            return ".png";
    }
    return "";
}

void write_drawing(const Drawing& draw, const std::filesystem::path& file, PictureKind kind,
                   int height) {
    const Surface surface = surface_for(file, kind, height);
    check(cairo_surface_status(surface.get()), file);
    {
        const std::unique_ptr<cairo_t, Destroy> cairo(cairo_create(surface.get()));
        const double scale = kind == PictureKind::png ? png_scale : points_per_pixel;
        cairo_scale(cairo.get(), scale, scale);
        CairoPen pen(*cairo);
        const PlotLook look{theme(ThemeName::light), 1.0F};
        const Rectangle paper{{0, 0}, {picture_width, static_cast<float>(height)}};
        pen.fill_box(paper, {look.theme.card}, 0);
        draw(pen, look, {{rim, rim}, {paper.high.x - rim, paper.high.y - rim}});
        check(cairo_status(cairo.get()), file);
    }
    if (kind == PictureKind::png) {
        check(cairo_surface_write_to_png(surface.get(), file.c_str()), file);
    }
    cairo_surface_finish(surface.get());
    check(cairo_surface_status(surface.get()), file);
}

void write_plot(const PlotView& view, const PlotWindow& shown, const std::filesystem::path& file,
                PictureKind kind) {
    write_drawing([&](Pen& pen, const PlotLook& look,
                      const Rectangle& box) { draw_plot(pen, look, view, shown, box); },
                  file, kind);
}

void write_plot(const BarPlotView& view, const std::filesystem::path& file, PictureKind kind) {
    constexpr float line_height = 18;  // of the type that files are written in, about
    const PlotLook look{theme(ThemeName::light), 1.0F};
    const float height = height_of(view, look, line_height) + 2 * rim;
    write_drawing([&](Pen& pen, const PlotLook& drawn_with,
                      const Rectangle& box) { draw_bars(pen, drawn_with, view, box); },
                  file, kind, static_cast<int>(height));
}

}  // namespace coilbook::bench
