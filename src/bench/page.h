// A page of the window, as the screen sees it: a name on its tab, actions that have names, and a
// drawing.
//
// Everything that a person can do on a page is an action: it has a name that never changes, words
// that say what it does, and mostly a key. Its key, the list of all actions (F1, shell/finder.h)
// and the tests all go through that name. A page draws what is known, posts what is asked for, and
// does it after the frame, in act(). What takes its time is done where nobody draws meanwhile
// (worker.h): a page reads and writes the catalogue in act(), look_round() and what is said to be
// called there, and nowhere else.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "bench/widgets/action.h"
#include "bench/widgets/look.h"
#include "bench/widgets/plot_actions.h"

namespace coilbook {
struct Coil;
}

namespace coilbook::bench {

class Page {
  public:
    Page() = default;
    Page(const Page&) = delete;
    Page& operator=(const Page&) = delete;
    virtual ~Page() = default;

    [[nodiscard]] virtual std::string_view name() const = 0;      // "Bench"
    [[nodiscard]] virtual std::string_view way_here() const = 0;  // "Go to the bench"
    // Whether there is any use for it just now; else its tab is left out. Asked after act().
    [[nodiscard]] virtual bool has_tab() { return true; }
    // For the window's name: what the page is about just now; may be empty.
    [[nodiscard]] virtual std::string title() = 0;

    [[nodiscard]] virtual std::vector<Action> actions() = 0;
    // Does the action of that name, in act(). Nothing for a name that the page does not have.
    virtual void perform(std::string_view action) = 0;

    // Draws what belongs into the top bar, at the cursor, at most so many pixels large.
    virtual void draw_in_bar(const Look&, float /*width*/, float /*height*/) {}
    // Fills the rest of the window, and watches the keys of its actions. While it is covered, by
    // the list of all actions, it leaves the keyboard alone.
    virtual void draw(const Look& look, bool is_covered) = 0;

    // The plot that it shows just now, for the keys that look closer at it (plot_actions.h).
    [[nodiscard]] virtual std::optional<ShownPlot> plot() { return std::nullopt; }

    // Carries out what was posted. Gives whether anything changed.
    virtual bool act() = 0;
    // Follows what others did to the catalogue, and goes on with work that takes its time, for
    // about `budget`. Gives whether anything changed.
    virtual bool look_round(std::chrono::milliseconds budget) = 0;
    // There is such work left.
    [[nodiscard]] virtual bool is_busy() const { return false; }
    // Something is typed and not saved.
    [[nodiscard]] virtual bool has_unsaved() const { return false; }
    // The coil that the person wants to have in hand at the bench; once.
    [[nodiscard]] virtual std::optional<Id<Coil>> take_trip() { return std::nullopt; }
    // The coil that the page is about just now, if it is about one: who goes to another page finds
    // that page at the same coil, where it follows.
    [[nodiscard]] virtual std::optional<Id<Coil>> coil_at() { return std::nullopt; }
    virtual void follow(const Id<Coil>&) {}
    // The catalogue on the disk is another one now, and is to be opened anew; gives, once, what is
    // to be said then on the page that takes this one's place.
    [[nodiscard]] virtual std::optional<std::string> take_anew() { return std::nullopt; }
    virtual void say(const std::string& /*words*/) {}
    // A file was dropped on the window. Gives whether the page has a use of its own for it.
    virtual bool take_file(const std::string& /*file*/) { return false; }
    // A photograph was dropped on the window. Gives whether it was taken.
    virtual bool take_photograph(const std::string& /*file*/) { return false; }
    // What a person should know once the window is open; mostly empty. May take its time.
    [[nodiscard]] virtual std::string word_at_start() { return {}; }
    // Says in the window what went wrong elsewhere.
    virtual void say_failure(const std::string& words) = 0;
};

}  // namespace coilbook::bench
