// What the command line writes to and knows of its surroundings; tests give their own.
#pragma once

#include <cstddef>
#include <functional>
#include <ostream>
#include <string>

#include "app/surroundings.h"
#include "app/text_width.h"
#include "base/result.h"

namespace coilbook::cli {

struct Terminal {
    std::ostream& out;            // results
    std::ostream& err;            // everything else
    std::size_t out_width = 0;    // columns, if `out` is a terminal; else 0
    bool shows_progress = false;  // whether a person watches `err`
    app::Surroundings surroundings = app::real_surroundings("coilbook");
    // Asks the person at the keyboard, yes or no; empty where there is none.
    std::function<bool(const std::string& question)> asks = {};
};

// Tells a Problem on one line of `err`, whatever bytes a file or its name may hold.
inline void tell(const Terminal& terminal, const Problem& problem) {
    terminal.err << app::on_one_line(to_line(problem)) << '\n';
}

}  // namespace coilbook::cli
