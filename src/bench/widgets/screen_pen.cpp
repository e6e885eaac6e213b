#include "bench/widgets/screen_pen.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "bench/widgets/ink.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

ImVec2 point(Place place) {
    return {place.x, place.y};
}
ImU32 inked(Ink with) {
    return ink(with.colour, with.opacity);
}

std::vector<ImVec2> all_points(std::span<const Place> places) {
    std::vector<ImVec2> points;
    points.reserve(places.size());
    for (const Place place : places) points.push_back(point(place));
    return points;
}

// Cuts the line through `points` into what the pattern leaves of it.
void draw_pattern(ImDrawList& list, std::span<const Place> points, const LineLook& look) {
    const std::span<const float> pattern = pattern_of(look.stroke);
    const ImU32 colour = inked(look.ink);
    const float pen = look.width;
    std::size_t part = 0;
    float left = pattern[0] * pen;  // of the part of the pattern that is being drawn
    for (std::size_t at = 0; at + (look.is_closed ? 0 : 1) < points.size(); ++at) {
        const Place from = points[at], to = points[(at + 1) % points.size()];
        const float length = std::hypot(to.x - from.x, to.y - from.y);
        if (!(length > 0) || length > 1e5F) continue;
        const auto on_it = [&](float share) {
            return ImVec2{from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
        };
        for (float done = 0; done < length;) {
            const float step = std::min(left, length - done);
            if (part % 2 == 0) {
                list.AddLine(on_it(done / length), on_it((done + step) / length), colour, pen);
            }
            done += step;
            left -= step;
            if (left > 1e-3F) continue;
            part = (part + 1) % pattern.size();
            left = pattern[part] * pen;
        }
    }
}

}  // namespace

ImFont* ScreenPen::font_of(Face face) const {
    switch (face) {
        case Face::small:
            return fonts_.small;
        case Face::text:
            return fonts_.text;
        case Face::strong:
            return fonts_.strong;
    }
    return fonts_.text;
}

Place ScreenPen::extent(Face face, std::string_view text) const {
    const ImVec2 size = bench::extent(font_of(face), text);
    return {size.x, size.y};
}

void ScreenPen::fill(std::span<const Place> corners, Ink ink) {
    const auto points = all_points(corners);
    list_.AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), inked(ink));
}

void ScreenPen::stroke(std::span<const Place> points, const LineLook& look) {
    if (look.stroke != Stroke::solid) return draw_pattern(list_, points, look);
    if (points.size() == 2 && !look.is_closed) {  // on whole pixels, unlike a polyline
        list_.AddLine(point(points[0]), point(points[1]), inked(look.ink), look.width);
        return;
    }
    const auto all = all_points(points);
    list_.AddPolyline(all.data(), static_cast<int>(all.size()), inked(look.ink),
                      look.is_closed ? ImDrawFlags_Closed : 0, look.width);
}

void ScreenPen::fill_box(const Rectangle& box, Ink ink, float rounding) {
    list_.AddRectFilled(point(box.low), point(box.high), inked(ink), rounding);
}

void ScreenPen::fill_circle(Place centre, float radius, Ink ink) {
    list_.AddCircleFilled(point(centre), radius, inked(ink));
}

void ScreenPen::ring(Place centre, float radius, Ink ink, float width) {
    list_.AddCircle(point(centre), radius, inked(ink), 0, width);
}

// Octagons without a soft edge, put in at once: a tenth of the work of a circle each.
void ScreenPen::dots(std::span<const Place> centres, float radius, Ink ink) {
    constexpr int corners = 8;
    const float near = radius * 0.42F, far = radius;
    const ImVec2 round[corners] = {{far, -near}, {far, near},   {near, far},   {-near, far},
                                   {-far, near}, {-far, -near}, {-near, -far}, {near, -far}};
    const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
    const ImU32 colour = inked(ink);
    for (const Place centre : centres) {
        list_.PrimReserve(3 * (corners - 2), corners);
        const unsigned first = list_._VtxCurrentIdx;
        for (int at = 2; at < corners; ++at) {
            list_.PrimWriteIdx(static_cast<ImDrawIdx>(first));
            list_.PrimWriteIdx(static_cast<ImDrawIdx>(first + static_cast<unsigned>(at) - 1));
            list_.PrimWriteIdx(static_cast<ImDrawIdx>(first + static_cast<unsigned>(at)));
        }
        for (const ImVec2 corner : round) {
            list_.PrimWriteVtx({centre.x + corner.x, centre.y + corner.y}, white, colour);
        }
    }
}

void ScreenPen::write(Face face, Place upper_left, Ink ink, std::string_view text) {
    put(list_, font_of(face), point(upper_left), inked(ink), text);
}

// The letters are drawn level and their corners turned.
void ScreenPen::write_turned(Face face, Place middle, float turn, Ink ink, std::string_view text) {
    ImFont* font = font_of(face);
    const ImVec2 size = bench::extent(font, text);
    const int first = list_.VtxBuffer.Size;
    const ImVec2 pivot{std::round(middle.x), std::round(middle.y)};
    const ImVec2 at{std::round(pivot.x - size.x / 2), std::round(pivot.y - size.y / 2)};
    // Clipped away before it is turned would be lost, hence the wide clip.
    list_.PushClipRect({-1e5F, -1e5F}, {1e5F, 1e5F}, false);
    put(list_, font, at, inked(ink), text);
    list_.PopClipRect();
    const float c = std::cos(turn), s = std::sin(turn);
    for (int index = first; index < list_.VtxBuffer.Size; ++index) {
        ImVec2& corner = list_.VtxBuffer[index].pos;
        const float x = corner.x - pivot.x, y = corner.y - pivot.y;
        corner = {pivot.x + c * x + s * y, pivot.y - s * x + c * y};
    }
}

void ScreenPen::clip(const Rectangle& box) {
    list_.PushClipRect(point(box.low), point(box.high), true);
}

void ScreenPen::unclip() {
    list_.PopClipRect();
}

}  // namespace coilbook::bench
