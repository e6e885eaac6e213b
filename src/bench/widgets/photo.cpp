#include "bench/widgets/photo.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "bench/widgets/ink.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {

void draw_photo(const Look& look, const char* id, const Photo& photo, float width, float height) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::Dummy({std::max(width, 1.0F), std::max(height, 1.0F)});
    note_item(look, id, photo.key);
    if (photo.width < 1 || photo.height < 1) return;
    const auto wide = static_cast<float>(photo.width), high = static_cast<float>(photo.height);
    const float factor = std::min({width / wide, height / high, look.scale});
    const ImVec2 size{std::round(wide * factor), std::round(high * factor)};
    const ImVec2 low{std::round(corner.x + (width - size.x) / 2),
                     std::round(corner.y + (height - size.y) / 2)};
    const ImVec2 end{low.x + size.x, low.y + size.y};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    void* texture = look.photos == nullptr ? nullptr : look.photos->texture_of(photo);
    if (texture != nullptr) {
        list.AddImageRounded(texture, low, end, {0, 0}, {1, 1}, IM_COL32_WHITE, look.px(6));
    } else {
        list.AddRectFilled(low, end, ink(look.theme->raised), look.px(6));
    }
    list.AddRect(low, end, ink(look.theme->border), look.px(6), 0, look.px(1));
}

}  // namespace coilbook::bench
