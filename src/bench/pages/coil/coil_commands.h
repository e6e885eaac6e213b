// What can be asked for on the page of one coil. Each is carried out by one call of app.
#pragma once

#include <string>
#include <variant>

#include "base/id.h"
#include "bench/common_commands.h"
#include "catalog/coil_care.h"

namespace coilbook::bench::coil_page {

struct ChooseCoil {
    Id<Coil> coil;
    bool operator==(const ChooseCoil&) const = default;
};
// The code that was typed or scanned.
struct EnterCode {
    std::string code;
    bool operator==(const EnterCode&) const = default;
};
// A neighbour in the bin, by code: -1 above, 1 below.
struct StepCoil {
    int step = 1;
    bool operator==(const StepCoil&) const = default;
};
struct SaveNotes {
    std::string text;
    bool operator==(const SaveNotes&) const = default;
};
struct NoteCondition {
    Wear what;
    std::string note;
    bool operator==(const NoteCondition&) const = default;
};
// What was noted last, or that kind, is mended or good again.
struct NoteGoodAgain {
    Wear what;
    bool operator==(const NoteGoodAgain&) const = default;
};
struct AddPhotograph {
    std::string path;
    bool operator==(const AddPhotograph&) const = default;
};
// The one that is shown.
struct PutPhotographAway {
    bool operator==(const PutPhotographAway&) const = default;
};
// The plot of how it sinks, as SVG, PDF and PNG; the message says where.
struct SavePicture {
    bool operator==(const SavePicture&) const = default;
};
struct TakeToTheBench {
    bool operator==(const TakeToTheBench&) const = default;
};

using Command = std::variant<ChooseCoil, EnterCode, StepCoil, SaveNotes, NoteCondition,
                             NoteGoodAgain, AddPhotograph, PutPhotographAway, SavePicture,
                             TakeToTheBench, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::coil_page
