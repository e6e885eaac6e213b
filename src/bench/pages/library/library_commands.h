// What the person asks for on the page Library. Done after the frame.
#pragma once

#include <string>
#include <variant>

#include "base/id.h"
#include "bench/common_commands.h"
#include "bench/pages/library/library_form.h"
#include "catalog/coil.h"

namespace coilbook::bench::library_page {

struct ChooseClass {
    std::string name;
    bool operator==(const ChooseClass&) const = default;
};
// The neighbour in the list as shown: -1 above, 1 below.
struct StepClass {
    int step = 1;
    bool operator==(const StepClass&) const = default;
};
// The next class, round the whole library, of which a confirmed coil looks wrong.
struct NextDoubt {
    bool operator==(const NextDoubt&) const = default;
};
// What the coil was confirmed as.
struct TakeBack {
    Id<Coil> coil;
    bool operator==(const TakeBack&) const = default;
};
// The map as it is shown, as SVG, PDF and PNG; the message says where.
struct SavePicture {
    bool operator==(const SavePicture&) const = default;
};

// Changing the chosen class, adding one, splitting it, joining another with it.
struct BeginTask {
    Task task = Task::change;
    bool operator==(const BeginTask&) const = default;
};
// Does what the task is about, as typed; and leaves it undone.
struct FinishTask {
    bool operator==(const FinishTask&) const = default;
};
struct LeaveTask {
    bool operator==(const LeaveTask&) const = default;
};

using Command = std::variant<ChooseClass, StepClass, NextDoubt, TakeBack, Undo, Redo, SavePicture,
                             BeginTask, FinishTask, LeaveTask, CloseFailure>;

}  // namespace coilbook::bench::library_page
