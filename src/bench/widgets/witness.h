// What was drawn, for tests: where each widget stands and what it says. Absent in normal runs.
#pragma once

#include <map>
#include <string>
#include <string_view>

namespace coilbook::bench {

// A widget as the last frame drew it, in pixels of the window.
struct Seen {
    float left = 0, top = 0, right = 0, bottom = 0;
    std::string says;      // a field's text, a button's label
    bool visible = false;  // some of it is inside its window and not scrolled away
    bool active = false;   // holds the keyboard or the mouse

    [[nodiscard]] float centre_x() const { return (left + right) / 2; }
    [[nodiscard]] float centre_y() const { return (top + bottom) / 2; }
};

class Witness {
  public:
    void forget() { seen_.clear(); }
    void note(std::string_view name, Seen seen) { seen_[std::string(name)] = std::move(seen); }
    // The widget of that name, or null if the last frame did not draw it.
    [[nodiscard]] const Seen* find(std::string_view name) const {
        const auto found = seen_.find(name);
        return found == seen_.end() ? nullptr : &found->second;
    }

  private:
    std::map<std::string, Seen, std::less<>> seen_;
};

}  // namespace coilbook::bench
