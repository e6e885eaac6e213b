// What the person asks for on the page of the instruments. Done after the frame; each that changes
// the catalogue is one change of it.
#pragma once

#include <string>
#include <variant>

#include "app/instrument_kinds.h"
#include "bench/common_commands.h"

namespace coilbook::bench::instruments_page {

struct ChooseInstrument {
    app::InstrumentKey key;
    bool operator==(const ChooseInstrument&) const = default;
};
// Enter in the field for codes: chooses the instrument with that code. A new code is asked about
// once, and begins a new instrument when it is entered again.
struct EnterCode {
    std::string code;
    bool operator==(const EnterCode&) const = default;
};
// The neighbour in the list as shown: -1 above, 1 below.
struct StepInstrument {
    int step = 1;
    bool operator==(const StepInstrument&) const = default;
};
// The check of the instrument in hand, as it was read.
struct SaveCheck {
    bool operator==(const SaveCheck&) const = default;
};
// What is typed in the form for figures, of a new instrument or of the one in hand.
struct SaveFigures {
    bool operator==(const SaveFigures&) const = default;
};
// How soft coatings squeeze under the micrometer in hand.
struct FindSqueeze {
    bool operator==(const FindSqueeze&) const = default;
};
// The study as it is set up in the form; it gets its turns.
struct BeginStudy {
    bool operator==(const BeginStudy&) const = default;
};
// The study that was not finished when the window was closed: on with it, or away with it.
struct GoOnWithStudy {
    bool operator==(const GoOnWithStudy&) const = default;
};
struct ThrowUnfinishedAway {
    bool operator==(const ThrowUnfinishedAway&) const = default;
};
// The study's readings, as a file beside the catalogue.
struct KeepStudy {
    bool operator==(const KeepStudy&) const = default;
};
// The plot of what the check tells, as SVG, PDF and PNG; the message says where.
struct SavePicture {
    bool operator==(const SavePicture&) const = default;
};

using Command = std::variant<SavePicture, GoOnWithStudy, ThrowUnfinishedAway, ChooseInstrument,
                             EnterCode, StepInstrument, SaveCheck, SaveFigures, FindSqueeze,
                             BeginStudy, KeepStudy, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::instruments_page
