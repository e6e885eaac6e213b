// What is typed and chosen on the page Stock, and what the person asks for there.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "bench/common_commands.h"
#include "bench/widgets/entry_form.h"

namespace coilbook::bench::stock_page {

enum class Task { stock, losses };

struct Form {
    Task task = Task::stock;
    std::string code;         // typed or scanned
    std::string asked_of;     // the code whose place is told; or empty
    std::string row;          // the class that the keyboard is on
    std::string first, last;  // days of the season, as year-month-day
    bool by_boat = false;
    std::optional<EntryForm> entry;  // the season's days, being typed
    int frames_to_focus = 3;
    bool is_rewritten = false;
    bool scrolls = false;

    bool operator==(const Form&) const = default;
};

struct EnterCode {
    std::string code;
    bool operator==(const EnterCode&) const = default;
};
struct StepRow {
    int step = 1;
    bool operator==(const StepRow&) const = default;
};
// The coil that was asked for is wanted at the bench.
struct TakeToTheBench {
    bool operator==(const TakeToTheBench&) const = default;
};
struct BeginSeason {
    bool operator==(const BeginSeason&) const = default;
};
struct SaveSeason {
    bool operator==(const SaveSeason&) const = default;
};
// The losses as plot and table, as files.
struct SaveLosses {
    bool operator==(const SaveLosses&) const = default;
};

using Command = std::variant<EnterCode, StepRow, TakeToTheBench, BeginSeason, SaveSeason,
                             SaveLosses, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::stock_page
