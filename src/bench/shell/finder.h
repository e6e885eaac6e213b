// The list of everything that can be done now, found by typing a few letters of it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bench/widgets/action.h"
#include "bench/widgets/look.h"

namespace coilbook::bench {

// Those whose words begin with what is typed, word by word and in any order ("co ne": "Go to the
// next coil …"); capitals are forgiven. Those that are possible now come first.
[[nodiscard]] std::vector<Action> matching(const std::vector<Action>& actions,
                                           std::string_view typed);

class Finder {
  public:
    void open();
    void close() { is_open_ = false; }
    [[nodiscard]] bool is_open() const { return is_open_; }

    // Draws it over the window while it is open, and watches its keys. Gives the name of the action
    // that was chosen in this frame; empty for none. It closes then, or by Esc.
    [[nodiscard]] std::string draw(const Look& look, const std::vector<Action>& actions);

  private:
    bool is_open_ = false;
    std::string typed_;
    std::string typed_before_;
    std::size_t at_ = 0;  // the line that Enter would choose
    int frames_to_focus_ = 0;
    bool is_emptied_ = false;
    bool scrolls_ = false;  // to the line, in this frame
};

}  // namespace coilbook::bench
