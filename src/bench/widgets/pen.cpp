#include "bench/widgets/pen.h"

#include <array>

namespace coilbook::bench {

bool overlap(const Rectangle& one, const Rectangle& other) {
    return one.low.x < other.high.x && other.low.x < one.high.x && one.low.y < other.high.y &&
           other.low.y < one.high.y;
}

std::span<const float> pattern_of(Stroke stroke) {
    static constexpr std::array dashed{6.0F, 3.0F};
    static constexpr std::array dotted{1.2F, 2.4F};
    static constexpr std::array dash_dotted{6.0F, 2.4F, 1.2F, 2.4F};
    switch (stroke) {
        case Stroke::solid:
            return {};
        case Stroke::dashed:
            return dashed;
        case Stroke::dotted:
            return dotted;
        case Stroke::dash_dotted:
            return dash_dotted;
    }
    return {};
}

}  // namespace coilbook::bench
