// Help on the numbers that a page shows: what one is, its unit, how it was found, and by whom.
//
// Two ways to it. The mouse rests on a number for half a second; or a key (F12) frames the one that
// the keyboard is on, or else the first, and arrows go from one to the next. Words are given by
// whoever draws the number, right after it; here is only where and when they are shown. While it
// walks, the field that has the keyboard keeps it: whatever is typed ends the walk and goes there,
// as a device's numbers must.
#pragma once

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "bench/widgets/look.h"

namespace coilbook::bench {

class NumberHelp {
  public:
    using Clock = std::function<std::chrono::steady_clock::time_point()>;
    explicit NumberHelp(Clock clock = std::chrono::steady_clock::now) : clock_(std::move(clock)) {}

    // Begins, or ends.
    void walk();
    [[nodiscard]] bool is_walking() const { return at_.has_value(); }
    // The mouse rests on a number whose help is not shown yet; and: it must be drawn now.
    [[nodiscard]] bool is_waiting() const;
    [[nodiscard]] bool is_due() const;

    // Before the page is drawn: takes the keys of a walk away from it.
    void begin();
    // The number in that place, in pixels of the window. `is_in_sight`: some of it is not scrolled
    // away; where the walk stands on one that is, whoever draws it scrolls (gives true).
    bool number(float left, float top, float right, float bottom, std::string_view words,
                bool is_in_sight, bool is_hovered);
    // The number told last is that of the field with the keyboard.
    void keyboard_is_here();
    // After the page was drawn: shows what is asked for, over all else.
    void draw(const Look& look);

  private:
    struct Place {
        float left, top, right, bottom;
        std::string words;
    };
    void show(const Look& look, const Place& place, const std::string& way_on) const;

    Clock clock_;
    std::vector<Place> places_;      // of this frame
    std::size_t begins_at_ = 0;      // of them: where a walk begins
    std::optional<std::size_t> at_;  // of them; nothing: no walk
    std::string hovered_;            // the words of the number under the mouse
    std::optional<Place> under_mouse_;
    std::chrono::steady_clock::time_point since_;
    bool is_shown_ = false;
};

// After a number was drawn as an item: its help. Nothing without words.
void help_on_item(const Look& look, std::string_view words);
// The same for one that was drawn by hand in the current window, between two corners.
void help_on(const Look& look, float left, float top, float right, float bottom,
             std::string_view words);

}  // namespace coilbook::bench
