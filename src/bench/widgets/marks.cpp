#include "bench/widgets/marks.h"

#include <imgui.h>

#include <algorithm>
#include <array>

#include "bench/widgets/ink.h"

namespace coilbook::bench {

void draw_mark(ImDrawList& list, Mark mark, float x, float y, float radius, Colour colour,
               Colour ground) {
    const ImU32 on = ink(colour), off = ink(ground);
    const float line = std::max(1.5F, radius * 0.28F);
    const float r = radius;
    switch (mark) {
        case Mark::ring:
            list.AddCircle({x, y}, r - line / 2, on, 0, line);
            break;
        case Mark::half:
            list.PathArcTo({x, y}, r - line / 2, 1.5708F, 4.7124F, 20);
            list.PathFillConvex(on);
            list.AddCircle({x, y}, r - line / 2, on, 0, line);
            break;
        case Mark::diamond: {
            const float d = r * 1.1F;
            list.AddQuadFilled({x, y - d}, {x + d, y}, {x, y + d}, {x - d, y}, on);
            break;
        }
        case Mark::check: {
            list.AddCircleFilled({x, y}, r, on);
            const std::array<ImVec2, 3> tick{ImVec2{x - r * 0.45F, y + r * 0.02F},
                                             ImVec2{x - r * 0.10F, y + r * 0.38F},
                                             ImVec2{x + r * 0.48F, y - r * 0.34F}};
            list.AddPolyline(tick.data(), 3, off, 0, line);
            break;
        }
        case Mark::disc:
            list.AddCircleFilled({x, y}, r, on);
            break;
        case Mark::square: {
            const float s = r * 0.88F;
            list.AddRectFilled({x - s, y - s}, {x + s, y + s}, on, r * 0.2F);
            break;
        }
        case Mark::triangle:
            list.AddTriangleFilled({x, y - r * 1.05F}, {x + r, y + r * 0.8F}, {x - r, y + r * 0.8F},
                                   on);
            break;
        case Mark::cross: {
            const float s = r * 0.8F;
            list.AddLine({x - s, y - s}, {x + s, y + s}, on, line * 1.3F);
            list.AddLine({x - s, y + s}, {x + s, y - s}, on, line * 1.3F);
            break;
        }
        case Mark::alike:
            for (const float side : {-1.0F, 1.0F}) {
                const float h = side * r * 0.42F;
                list.AddLine({x - r, y + h}, {x + r, y + h}, on, line * 1.3F);
            }
            break;
        case Mark::warning:
            list.AddTriangleFilled({x, y - r * 1.1F}, {x + r * 1.15F, y + r * 0.9F},
                                   {x - r * 1.15F, y + r * 0.9F}, on);
            list.AddLine({x, y - r * 0.45F}, {x, y + r * 0.25F}, off, line);
            list.AddCircleFilled({x, y + r * 0.58F}, line * 0.6F, off);
            break;
    }
}

}  // namespace coilbook::bench
