// What the person has typed and chosen on the page Library. A value without a window.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench::library_page {

// What is being done to the library.
enum class Task { look, change, add, split, join };

struct Form {
    std::string filter;                // being typed
    bool filter_was_emptied = false;   // in this frame, by a key
    std::string chosen_class;          // its name
    bool shows_coils = true;           // confirmed ones, on the map
    bool shows_curves = true;          // of equal density and of equal sink rate
    std::optional<PlotWindow> window;  // what is seen of the map; nothing: all
    int frames_to_focus = 0;           // above 0: the filter is being given the keyboard
    std::string shown_class;           // the one that was scrolled into sight in the list

    Task task = Task::look;
    std::vector<std::string> typed;  // in the task's fields, in their order (library_task.h)
    std::size_t field = 0;           // which of them has the keyboard
    bool was_rewritten = false;      // in this frame, not by typing: all of them
    std::optional<Problem> problem;  // with what was typed

    // Whether the page looks the same but for what the map shows of itself.
    [[nodiscard]] bool asks_the_same(const Form& other) const {
        return filter == other.filter && chosen_class == other.chosen_class &&
               shows_coils == other.shows_coils && shows_curves == other.shows_curves &&
               task == other.task && typed == other.typed && problem == other.problem;
    }
    bool operator==(const Form&) const = default;
};

}  // namespace coilbook::bench::library_page
