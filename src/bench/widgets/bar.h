// A probability as a bar: how much by length and by number, what by words and by shape.
#pragma once

#include <string_view>

#include "bench/widgets/look.h"
#include "bench/widgets/marks.h"

namespace coilbook::bench {

struct BarText {
    std::string_view id;      // its identity
    std::string_view name;    // "T-11 level line"
    std::string_view amount;  // "62 %"
    double share = 0;         // 0 to 1: the length of the bar
    Mark mark = Mark::disc;
    Colour colour;
    bool leading = false;        // written stronger: the best of the list
    bool chosen = false;         // framed: the one that a decision will be about
    std::string_view help = {};  // on the amount
};

// One row as wide as the space that is left. Gives whether it was clicked.
bool probability_bar(const Look& look, const BarText& bar);

}  // namespace coilbook::bench
