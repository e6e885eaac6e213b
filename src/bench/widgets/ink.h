// Colours and fonts as the widget library wants them. For drawing files only.
#pragma once

#include <imgui.h>

#include "bench/widgets/theme.h"

namespace coilbook::bench {

// `opacity` 0 to 1.
[[nodiscard]] inline ImU32 ink(Colour colour, float opacity = 1.0F) {
    return IM_COL32(colour.red, colour.green, colour.blue,
                    static_cast<ImU32>(opacity * 255.0F + 0.5F));
}

[[nodiscard]] inline ImVec4 ink4(Colour colour, float opacity = 1.0F) {
    return {static_cast<float>(colour.red) / 255.0F, static_cast<float>(colour.green) / 255.0F,
            static_cast<float>(colour.blue) / 255.0F, opacity};
}

}  // namespace coilbook::bench
