// Draws pictures with Cairo: into SVG, PDF or an image.
#pragma once

#include <cairo.h>

#include "bench/widgets/pen.h"

namespace coilbook::bench {

class CairoPen : public Pen {
  public:
    // `cairo` must outlive it.
    explicit CairoPen(cairo_t& cairo) : cairo_(cairo) {}

    [[nodiscard]] Place extent(Face face, std::string_view text) const override;
    void fill(std::span<const Place> corners, Ink ink) override;
    void stroke(std::span<const Place> points, const LineLook& look) override;
    void fill_box(const Rectangle& box, Ink ink, float rounding) override;
    void fill_circle(Place centre, float radius, Ink ink) override;
    void ring(Place centre, float radius, Ink ink, float width) override;
    void dots(std::span<const Place> centres, float radius, Ink ink) override;
    void write(Face face, Place upper_left, Ink ink, std::string_view text) override;
    void write_turned(Face face, Place middle, float turn, Ink ink, std::string_view text) override;
    void clip(const Rectangle& box) override;
    void unclip() override;

  private:
    void use(Ink ink);
    void use(Face face) const;

    cairo_t& cairo_;
};

}  // namespace coilbook::bench
