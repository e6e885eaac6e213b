// What is chosen and typed on the page Care, and what the person asks for there.
#pragma once

#include <string>
#include <variant>

#include "bench/common_commands.h"

namespace coilbook::bench::care_page {

enum class Task { back_up, go_back, look_through, table, take_in, write_out };

struct Form {
    Task task = Task::back_up;
    std::string file;         // typed; empty: the usual one, or that of the row
    std::string backup;       // the row of the backups that the keyboard is on: its path
    std::string kind;         // the same of the kinds of things: its name
    bool with_names = false;  // of clients
    bool joins = false;       // catalogues that were made apart
    int frames_to_focus = 3;
    bool is_rewritten = false;
    bool scrolls = false;

    bool operator==(const Form&) const = default;
};

struct ChooseTask {
    Task task = Task::back_up;
    bool operator==(const ChooseTask&) const = default;
};
// So many rows down, or up where it is negative.
struct StepRow {
    int step = 1;
    bool operator==(const StepRow&) const = default;
};
// Does the task that is chosen; of one that changes much it shows first what that would be.
struct DoTask {
    bool operator==(const DoTask&) const = default;
};

using Command = std::variant<ChooseTask, StepRow, DoTask, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::care_page
