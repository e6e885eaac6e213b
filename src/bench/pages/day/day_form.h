// What is typed and chosen on the page Day, and what the person asks for there.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "bench/common_commands.h"
#include "bench/widgets/entry_form.h"
#include "catalog/custody.h"

namespace coilbook::bench::day_page {

// What is being done, and so what a scanned code means.
enum class Task {
    plan,    // it is to be carried by the boat
    pack,    // it goes aboard: its box is ticked
    back,    // it came back
    people,  // the boats and clients themselves
};

enum class EntryKind { outing, boat, client };

struct Form {
    Day day{};  // set when the page is first looked at
    Task task = Task::pack;
    std::string code;              // typed or scanned
    std::string asked_code;        // it was asked about once; again means yes
    std::optional<Id<Boat>> boat;  // in hand
    std::string row;               // that the keyboard is on, by its key
    std::optional<EntryForm> entry;
    EntryKind entry_kind = EntryKind::outing;
    std::optional<Id<Boat>> entry_boat;  // that is being changed
    std::optional<Id<Client>> entry_client;
    bool is_asked_again = false;  // to retire a boat or forget a client: the second time it is done
    int frames_to_focus = 3;
    bool is_rewritten = false;
    bool scrolls = false;

    bool operator==(const Form&) const = default;
};

struct EnterCode {
    std::string code;
    bool operator==(const EnterCode&) const = default;
};
// So many days on, or back where it is negative; 0 is the day that one comes for: today if a boat
// goes out today, else tomorrow.
struct StepDay {
    int days = 0;
    bool operator==(const StepDay&) const = default;
};
struct ChooseBoat {
    Id<Boat> boat;
    bool operator==(const ChooseBoat&) const = default;
};
struct StepBoat {
    int step = 1;
    bool operator==(const StepBoat&) const = default;
};
struct StepRow {
    int step = 1;
    bool operator==(const StepRow&) const = default;
};
// Ticks the row that the keyboard is on, or takes the tick away; of what is out: it came back.
struct TickRow {
    bool operator==(const TickRow&) const = default;
};
// It is no longer on the plan.
struct DropRow {
    bool operator==(const DropRow&) const = default;
};
// What the row names did not come back, or not whole.
struct NoteRow {
    Whereabouts where = Whereabouts::lost;
    bool operator==(const NoteRow&) const = default;
};
// The first thing that would help with what is wrong goes on the plan.
struct FillGap {
    bool operator==(const FillGap&) const = default;
};
struct CallOff {
    bool operator==(const CallOff&) const = default;
};
struct SavePacking {
    bool operator==(const SavePacking&) const = default;
};
// `is_new`: of the kind; else of the boat or client that the keyboard is on.
struct BeginEntry {
    EntryKind kind = EntryKind::outing;
    bool is_new = true;
    bool operator==(const BeginEntry&) const = default;
};
struct SaveEntry {
    bool operator==(const SaveEntry&) const = default;
};
// Retires the boat, or forgets the client, that the keyboard is on.
struct EndRow {
    bool operator==(const EndRow&) const = default;
};

using Command = std::variant<EnterCode, StepDay, ChooseBoat, StepBoat, StepRow, TickRow, DropRow,
                             NoteRow, FillGap, CallOff, SavePacking, BeginEntry, SaveEntry, EndRow,
                             Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::day_page
