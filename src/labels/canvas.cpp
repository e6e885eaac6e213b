#include "labels/canvas.h"

#include <algorithm>
#include <cmath>

#include "base/error.h"

namespace coilbook::labels {
namespace {

// Inter has Latin, Greek and Cyrillic; Pango takes what is missing from the other fonts that
// tools/setup installs.
constexpr const char* family = "Inter, DejaVu Sans, Noto Sans, Symbola, Droid Sans Fallback";

PangoWeight pango_weight(Weight weight) {
    switch (weight) {
        case Weight::regular:
            return PANGO_WEIGHT_NORMAL;
        case Weight::medium:
            return PANGO_WEIGHT_MEDIUM;
        case Weight::bold:
            return PANGO_WEIGHT_BOLD;
    }
    return PANGO_WEIGHT_NORMAL;
}

void free_layout(PangoLayout* layout) {
    g_object_unref(layout);
}

double from_pango(int units) {
    return static_cast<double>(units) / PANGO_SCALE;
}

int to_pango(double mm) {
    return static_cast<int>(std::lround(mm * PANGO_SCALE));
}

}  // namespace

void check(cairo_surface_t* surface) {
    const auto status = cairo_surface_status(surface);
    if (status != CAIRO_STATUS_SUCCESS) {
        throw Error(std::string("drawing labels: ") + cairo_status_to_string(status));
    }
}

std::string bytes_drawn(const MakeSurface& make,
                        const std::function<void(cairo_surface_t*)>& draw) {
    std::string bytes;
    const auto keep = [](void* into, const unsigned char* data, unsigned int length) {
        static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    };
    const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
        make(keep, &bytes), &cairo_surface_destroy);
    check(surface.get());
    draw(surface.get());
    cairo_surface_finish(surface.get());
    check(surface.get());
    return bytes;
}

Canvas::Canvas(cairo_surface_t* surface, double per_mm)
    : cairo_(cairo_create(surface), &cairo_destroy), layout_(nullptr, &free_layout) {
    cairo_scale(cairo(), per_mm, per_mm);
    layout_.reset(pango_cairo_create_layout(cairo()));
    // Letters as they are drawn, not as they would be moved onto some screen's pixels.
    auto* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout_.get()), options);
    cairo_font_options_destroy(options);
    // One unit here is a millimetre: letters moved to whole ones would stand anywhere.
    pango_context_set_round_glyph_positions(pango_layout_get_context(layout_.get()), FALSE);
    pango_layout_context_changed(layout_.get());
    cairo_set_source_rgb(cairo(), 0, 0, 0);
}

Canvas::~Canvas() = default;

void Canvas::fill(const Box& box) {
    cairo_rectangle(cairo(), box.x, box.y, box.width, box.height);
    cairo_fill(cairo());
}

void Canvas::fill_white(const Box& box) {
    cairo_set_source_rgb(cairo(), 1, 1, 1);
    fill(box);
    cairo_set_source_rgb(cairo(), 0, 0, 0);
}

void Canvas::outline(const Box& box, double line) {
    cairo_rectangle(cairo(), box.x, box.y, box.width, box.height);
    cairo_set_line_width(cairo(), line);
    cairo_stroke(cairo());
}

void Canvas::stroke(double x1, double y1, double x2, double y2, double line, bool dashed) {
    const double dash[] = {1.0, 0.8};
    cairo_set_dash(cairo(), dash, dashed ? 2 : 0, 0);
    cairo_move_to(cairo(), x1, y1);
    cairo_line_to(cairo(), x2, y2);
    cairo_set_line_width(cairo(), line);
    cairo_stroke(cairo());
    cairo_set_dash(cairo(), nullptr, 0, 0);
}

void Canvas::dot(double x, double y, double radius) {
    cairo_arc(cairo(), x, y, radius, 0, 2 * 3.141592653589793);
    cairo_fill(cairo());
}

void Canvas::ring(double x, double y, double length, double height, double line) {
    // Two arcs that leave the line at a point, as a loop leaves its weld.
    const double left = x - length;
    for (const double side : {-1.0, 1.0}) {
        cairo_move_to(cairo(), x, y);
        cairo_curve_to(cairo(), x - 0.45 * length, y + side * 0.75 * height, left,
                       y + side * 0.75 * height, left, y);
    }
    cairo_set_line_width(cairo(), line);
    cairo_stroke(cairo());
}

void Canvas::set(std::string_view text, const Type& type) {
    auto* font = pango_font_description_from_string(family);
    pango_font_description_set_weight(font, pango_weight(type.weight));
    pango_font_description_set_absolute_size(font, type.size * PANGO_SCALE);
    pango_layout_set_font_description(layout_.get(), font);
    pango_font_description_free(font);
    auto* attributes = pango_attr_list_new();
    if (type.letter_spacing != 0.0) {
        pango_attr_list_insert(
            attributes, pango_attr_letter_spacing_new(to_pango(type.letter_spacing * type.size)));
    }
    pango_layout_set_attributes(layout_.get(), attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_width(layout_.get(), -1);
    pango_layout_set_height(layout_.get(), 0);
    pango_layout_set_ellipsize(layout_.get(), PANGO_ELLIPSIZE_NONE);
    pango_layout_set_single_paragraph_mode(layout_.get(), TRUE);
    pango_layout_set_alignment(layout_.get(), type.align == Align::left     ? PANGO_ALIGN_LEFT
                                              : type.align == Align::middle ? PANGO_ALIGN_CENTER
                                                                            : PANGO_ALIGN_RIGHT);
    pango_layout_set_text(layout_.get(), text.data(), static_cast<int>(text.size()));
}

Canvas::Extent Canvas::extent(std::string_view text, const Type& type) {
    set(text, type);
    PangoRectangle logical;
    pango_layout_get_extents(layout_.get(), nullptr, &logical);
    return {from_pango(logical.width), from_pango(logical.height),
            from_pango(pango_layout_get_baseline(layout_.get()))};
}

void Canvas::line(std::string_view text, const Box& box, const Type& type) {
    if (text.empty()) return;
    const auto whole = extent(text, type);
    if (whole.width > box.width) {
        pango_layout_set_width(layout_.get(), to_pango(box.width));
        pango_layout_set_ellipsize(layout_.get(), PANGO_ELLIPSIZE_END);
    }
    const double spare = std::max(0.0, box.width - whole.width);
    const double x = type.align == Align::left     ? box.x
                     : type.align == Align::middle ? box.x + spare / 2
                                                   : box.x + spare;
    cairo_move_to(cairo(), x, box.y + (box.height - whole.height) / 2);
    pango_cairo_show_layout(cairo(), layout_.get());
}

double Canvas::fitting_size(std::string_view text, const Box& box, Type type, double most) {
    type.size = 10.0;
    const auto at_ten = extent(text, type);
    if (at_ten.width <= 0) return most;
    // A hair less, so that rounding does not cut the last letter away.
    return std::min(most, 0.995 * 10.0 * box.width / at_ten.width);
}

double Canvas::paragraph(std::string_view text, const Box& box, const Type& type) {
    if (text.empty()) return 0;
    const auto one = extent(text, type);
    // A line is a little lower than its fonts would have it where they are mixed.
    const auto lines = static_cast<int>(std::floor(box.height / one.height + 0.2));
    if (lines < 1) return 0;
    pango_layout_set_width(layout_.get(), to_pango(box.width));
    pango_layout_set_wrap(layout_.get(), PANGO_WRAP_WORD_CHAR);
    pango_layout_set_height(layout_.get(), -lines);
    pango_layout_set_ellipsize(layout_.get(), PANGO_ELLIPSIZE_END);
    PangoRectangle logical;
    pango_layout_get_extents(layout_.get(), nullptr, &logical);
    cairo_move_to(cairo(), box.x, box.y);
    pango_cairo_show_layout(cairo(), layout_.get());
    return from_pango(logical.height);
}

}  // namespace coilbook::labels
