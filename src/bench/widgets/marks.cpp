#include "bench/widgets/marks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "bench/widgets/screen_pen.h"

namespace coilbook::bench {

void draw_mark(Pen& pen, Mark mark, Place at, float radius, Colour colour, Colour ground) {
    const Ink on{colour}, off{ground};
    const float line = std::max(1.5F, radius * 0.28F);
    const auto [x, y] = at;
    const float r = radius;
    switch (mark) {
        case Mark::ring:
            pen.ring(at, r - line / 2, on, line);
            break;
        case Mark::half: {
            std::vector<Place> left;  // the left half of the disc, from its foot clockwise
            for (int step = 0; step <= 20; ++step) {
                const float turn = 1.5708F + 3.1416F * static_cast<float>(step) / 20.0F;
                left.push_back(
                    {x + (r - line / 2) * std::cos(turn), y + (r - line / 2) * std::sin(turn)});
            }
            pen.fill(left, on);
            pen.ring(at, r - line / 2, on, line);
            break;
        }
        case Mark::diamond: {
            const float d = r * 1.1F;
            pen.fill(std::array<Place, 4>{{{x, y - d}, {x + d, y}, {x, y + d}, {x - d, y}}}, on);
            break;
        }
        case Mark::check: {
            pen.fill_circle(at, r, on);
            const std::array<Place, 3> tick{{{x - r * 0.45F, y + r * 0.02F},
                                             {x - r * 0.10F, y + r * 0.38F},
                                             {x + r * 0.48F, y - r * 0.34F}}};
            pen.stroke(tick, {off, line});
            break;
        }
        case Mark::disc:
            pen.fill_circle(at, r, on);
            break;
        case Mark::square: {
            const float s = r * 0.88F;
            pen.fill_box({{x - s, y - s}, {x + s, y + s}}, on, r * 0.2F);
            break;
        }
        case Mark::triangle:
            pen.fill(
                std::array<Place, 3>{
                    {{x, y - r * 1.05F}, {x + r, y + r * 0.8F}, {x - r, y + r * 0.8F}}},
                on);
            break;
        case Mark::cross: {
            const float s = r * 0.8F;
            const LineLook arm{on, line * 1.3F};
            pen.stroke(std::array<Place, 2>{{{x - s, y - s}, {x + s, y + s}}}, arm);
            pen.stroke(std::array<Place, 2>{{{x - s, y + s}, {x + s, y - s}}}, arm);
            break;
        }
        case Mark::alike:
            for (const float side : {-1.0F, 1.0F}) {
                const float h = side * r * 0.42F;
                pen.stroke(std::array<Place, 2>{{{x - r, y + h}, {x + r, y + h}}},
                           {on, line * 1.3F});
            }
            break;
        case Mark::warning:
            pen.fill(std::array<Place, 3>{{{x, y - r * 1.1F},
                                           {x + r * 1.15F, y + r * 0.9F},
                                           {x - r * 1.15F, y + r * 0.9F}}},
                     on);
            pen.stroke(std::array<Place, 2>{{{x, y - r * 0.45F}, {x, y + r * 0.25F}}}, {off, line});
            pen.fill_circle({x, y + r * 0.58F}, line * 0.6F, off);
            break;
    }
}

void draw_mark(ImDrawList& list, Mark mark, float x, float y, float radius, Colour colour,
               Colour ground) {
    ScreenPen pen(list);
    draw_mark(pen, mark, {x, y}, radius, colour, ground);
}

}  // namespace coilbook::bench
