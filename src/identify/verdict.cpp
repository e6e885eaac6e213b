#include "identify/verdict.h"

#include <algorithm>

namespace coilbook {

std::string_view name_of(Flag flag) {
    switch (flag) {
        case Flag::implausible:
            return "implausible";
        case Flag::unit_mixup:
            return "unit?";
        case Flag::inconsistent:
            return "inconsistent";
        case Flag::ambiguous:
            return "ambiguous";
    }
    return "?";
}

bool Verdict::has(Flag flag) const {
    return std::ranges::count(flags, flag) > 0;
}

}  // namespace coilbook
