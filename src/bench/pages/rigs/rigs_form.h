// What is typed and chosen on the page Rigs, and what the person asks for there.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "bench/common_commands.h"
#include "bench/widgets/entry_form.h"
#include "catalog/custody.h"

namespace coilbook::bench::rigs_page {

struct Form {
    std::string code;                // typed or scanned
    std::optional<RigRole> strings;  // what is scanned goes into the rig as this; else it is found
    std::optional<Id<Rig>> at;       // the rig that the keyboard is on
    std::optional<Id<Coil>> part;    // of it
    std::optional<EntryForm> entry;  // a rig's words, being typed
    bool entry_is_new = false;
    bool is_asked_to_retire = false;  // once; the second time it is done
    int frames_to_focus = 3;
    bool is_rewritten = false;  // the code's text was changed in this frame, not by typing
    bool scrolls = false;       // to the rig, in this frame

    bool operator==(const Form&) const = default;
};

// Enter in the field of codes.
struct EnterCode {
    std::string code;
    bool operator==(const EnterCode&) const = default;
};
struct ChooseRig {
    Id<Rig> rig;
    bool operator==(const ChooseRig&) const = default;
};
// The neighbour in the list: -1 above, 1 below.
struct StepRig {
    int step = 1;
    bool operator==(const StepRig&) const = default;
};
struct StepPart {
    int step = 1;
    bool operator==(const StepPart&) const = default;
};
// The next tip of the wallet goes on, or the part that the keyboard is on.
struct ChangeTip {
    bool is_this_part = false;
    bool operator==(const ChangeTip&) const = default;
};
// The part that the keyboard is on comes out of the rig, into the bin.
struct TakeOut {
    bool operator==(const TakeOut&) const = default;
};
struct BeginEntry {
    bool is_new = false;
    bool operator==(const BeginEntry&) const = default;
};
struct SaveEntry {
    bool operator==(const SaveEntry&) const = default;
};
struct RetireRig {
    bool operator==(const RetireRig&) const = default;
};
struct SaveLabel {
    bool operator==(const SaveLabel&) const = default;
};

using Command = std::variant<EnterCode, ChooseRig, StepRig, StepPart, ChangeTip, TakeOut,
                             BeginEntry, SaveEntry, RetireRig, SaveLabel, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::rigs_page
