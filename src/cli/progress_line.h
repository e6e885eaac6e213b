// "120 coils": a line that counts on a terminal while long work runs, and is gone when it ends.
#pragma once

#include <cstddef>

#include "cli/terminal.h"

namespace coilbook::cli {

class ProgressLine {
  public:
    // Shows nothing at all unless a person watches and `is_wanted`.
    ProgressLine(const Terminal& terminal, bool is_wanted)
        : err_(terminal.err), is_on_(terminal.shows_progress && is_wanted) {}
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;
    ~ProgressLine() { hide(); }

    // Shows every twentieth count, so that counting costs nothing.
    void show(std::size_t count, const char* what) {
        if (!is_on_ || count % 20 != 0) return;
        err_ << '\r' << count << ' ' << what << std::flush;
        is_shown_ = true;
    }
    void hide() {
        // "Carriage return, erase to the end of the line" of every terminal since the VT100.
        if (is_shown_) err_ << "\r\x1b[K" << std::flush;
        is_shown_ = false;
    }

  private:
    std::ostream& err_;
    bool is_on_;
    bool is_shown_ = false;
};

}  // namespace coilbook::cli
