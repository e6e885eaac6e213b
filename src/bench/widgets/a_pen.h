// A pen that takes notes, for tests of what is drawn where. Every letter is 8 by 16 pixels large.
#pragma once

#include <string>
#include <vector>

#include "bench/widgets/pen.h"

namespace coilbook::bench {

class NotingPen : public Pen {
  public:
    struct Words {
        std::string text;
        Place middle;
        float turn = 0;
    };
    struct Line {
        std::vector<Place> points;
        LineLook look;
    };
    std::vector<Words> words;
    std::vector<Line> lines;
    std::vector<Place> dot_centres;
    std::vector<std::vector<Place>> shapes;
    int open_clips = 0;

    [[nodiscard]] const Words* find(std::string_view text) const {
        for (const Words& each : words) {
            if (each.text == text) return &each;
        }
        return nullptr;
    }

    [[nodiscard]] Place extent(Face, std::string_view text) const override {
        return {8.0F * static_cast<float>(text.size()), 16.0F};
    }
    void fill(std::span<const Place> corners, Ink) override {
        shapes.emplace_back(corners.begin(), corners.end());
    }
    void stroke(std::span<const Place> points, const LineLook& look) override {
        lines.push_back({{points.begin(), points.end()}, look});
    }
    void fill_box(const Rectangle&, Ink, float) override {}
    void fill_circle(Place, float, Ink) override {}
    void ring(Place, float, Ink, float) override {}
    void dots(std::span<const Place> centres, float, Ink) override {
        dot_centres.insert(dot_centres.end(), centres.begin(), centres.end());
    }
    void write(Face face, Place upper_left, Ink, std::string_view text) override {
        const Place size = extent(face, text);
        words.push_back(
            {std::string(text), {upper_left.x + size.x / 2, upper_left.y + size.y / 2}, 0.0F});
    }
    void write_turned(Face, Place middle, float turn, Ink, std::string_view text) override {
        words.push_back({std::string(text), middle, turn});
    }
    void clip(const Rectangle&) override { ++open_clips; }
    void unclip() override { --open_clips; }
};

}  // namespace coilbook::bench
