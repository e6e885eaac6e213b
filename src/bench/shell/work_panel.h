// What is seen of work that takes its time: what it is, how far it has come, and how to break it
// off.
#pragma once

#include <string>

#include "bench/widgets/look.h"

namespace coilbook::bench {

struct WorkPanel {
    bool hides_all = false;        // what is below it means nothing yet
    std::string words;             // "Taking in bin.csv"
    double part = 0;               // 0 to 1; 0 where nobody knows
    int seconds = 0;               // since it began
    bool is_breaking_off = false;  // it was asked for, and is not over yet
};

// Draws it over everything else, which the mouse does not reach meanwhile. Gives whether the person
// wants to break it off: by Esc or by its button.
[[nodiscard]] bool draw_work_panel(const Look& look, const WorkPanel& work);

}  // namespace coilbook::bench
