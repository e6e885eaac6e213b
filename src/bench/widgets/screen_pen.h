// Draws pictures into the window. For drawing files only.
#pragma once

#include "bench/widgets/look.h"
#include "bench/widgets/pen.h"

struct ImDrawList;

namespace coilbook::bench {

class ScreenPen : public Pen {
  public:
    // Both must outlive it. Without fonts it cannot write.
    explicit ScreenPen(ImDrawList& list, const Fonts& fonts = {}) : list_(list), fonts_(fonts) {}

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
    [[nodiscard]] ImFont* font_of(Face face) const;

    ImDrawList& list_;
    Fonts fonts_;
};

}  // namespace coilbook::bench
