// Changing the library: what is asked for in each task, and what the page says of it. Pure.
//
// A task has a few fields, in the order in which Enter goes through them; the last one does it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/class_changes.h"
#include "bench/pages/library/library_form.h"
#include "bench/pages/library/library_model.h"
#include "bench/pages/library/library_view.h"

namespace coilbook::bench::library_page {

// Which text of the form is which; the keys are those that Problems name.
struct TaskField {
    const char* key;
    const char* label;
    const char* unit;  // of a weight per length, that of the set takes its place
    const char* hint;
    std::vector<std::string_view> words;  // of a choice; empty for text
    int cells = 1;                        // how wide it is, in columns
};
[[nodiscard]] const std::vector<TaskField>& fields_of(Task task);

[[nodiscard]] std::vector<std::string> typed_from(const app::ClassWords& words);
// REQUIRES: the form's task is to change or to add a class.
[[nodiscard]] app::ClassWords words_typed(const Form& form, const Units& units);

// Where a class is to be cut, as typed; nothing where that is no number.
[[nodiscard]] std::optional<app::Cut> cut_typed(const Form& form, const Units& units);
[[nodiscard]] std::vector<std::string> typed_from(const app::Cut& cut, const app::HalfNames& names,
                                                  const Units& units);
// What is typed keeps its meaning under other units: a bare weight per length gets the one it had.
void keep_meaning(Form& form, const Units& before);
inline constexpr std::size_t class_weight = 5;  // of those of changing and adding
inline constexpr std::size_t split_by = 0, split_at = 1, split_low = 2, split_high = 3;

// The class that is to be joined with the chosen one: its name, or the beginning of just one.
[[nodiscard]] std::string class_to_join(const Form& form, const Situation& situation);

// Nothing while nothing is being changed.
[[nodiscard]] std::optional<TaskView> task_view(const Form& form, const Situation& situation);
// A window with what the plan is about and what it would make; nothing where there is no plan.
[[nodiscard]] std::optional<PlotWindow> plan_window(const Form& form, const Situation& situation);
// What the plan would make, for the map: ellipses, and where a class is cut.
void add_plan(PlotView& map, const Form& form, const Situation& situation);

}  // namespace coilbook::bench::library_page
