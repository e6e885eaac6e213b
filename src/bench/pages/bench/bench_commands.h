// What the person asks for at the bench. Done after the frame, each as one change of the catalogue.
#pragma once

#include <string>
#include <variant>

#include "base/id.h"
#include "bench/common_commands.h"
#include "catalog/coil.h"
#include "catalog/readings.h"

namespace coilbook::bench::bench_page {

struct ChooseCoil {
    Id<Coil> coil;
    bool operator==(const ChooseCoil&) const = default;
};
// Enter in the field for codes: picks up the coil with that code. A new code is asked about once,
// and makes a coil when it is entered again.
struct EnterCode {
    std::string code;
    bool operator==(const EnterCode&) const = default;
};
struct MakeCoil {
    std::string code;
    bool operator==(const MakeCoil&) const = default;
};
// A coil with a code that the program gives.
struct GiveCode {
    bool operator==(const GiveCode&) const = default;
};
// `text` as typed, a bare number in the unit shown beside the field. Nothing withdraws the reading.
struct SaveReading {
    ReadingField field;
    std::string text;
    std::string instead_of = {};  // what was refused there before, to be told
    std::string bare_unit = {};   // of a bare number, as a NumberStyle takes it
    bool operator==(const SaveReading&) const = default;
};
// Nothing takes the notes away; a code that was scanned into them is looked for as above.
struct SaveNotes {
    std::string text;
    bool operator==(const SaveNotes&) const = default;
};
// What was entered in the field of a reading is no value, and may be a code that was scanned while
// the keyboard was there, alone or behind what had been typed: then that coil is picked up, and the
// field is as it was.
struct LookForScan {
    ReadingField field;
    std::string text;
    bool operator==(const LookForScan&) const = default;
};
// The reading of a field; of one that may be read several times the last.
struct TakeBackReading {
    ReadingField field;
    bool operator==(const TakeBackReading&) const = default;
};
struct Confirm {
    std::string class_name;
    bool operator==(const Confirm&) const = default;
};
// The one reading among several in a field that is far from the others.
struct TakeBackOdd {
    ReadingField field;
    Id<Reading> reading;
    bool operator==(const TakeBackOdd&) const = default;
};
// Weights that were noted in grains were grams, or the other way round.
struct CorrectUnits {
    bool operator==(const CorrectUnits&) const = default;
};
// The key of the stopwatch: starts it, and stops it with its time in the field.
struct PressStopwatch {
    bool operator==(const PressStopwatch&) const = default;
};
struct DropStopwatch {
    bool operator==(const DropStopwatch&) const = default;
};
// Writes the coil's label as a file.
struct WriteLabel {
    bool operator==(const WriteLabel&) const = default;
};
// The plot, as files.
struct SavePicture {
    bool operator==(const SavePicture&) const = default;
};
struct TakeBackConfirmation {
    bool operator==(const TakeBackConfirmation&) const = default;
};
// The next coil of the bin that is not confirmed.
struct NextCoil {
    bool operator==(const NextCoil&) const = default;
};
// The neighbour in the bin as shown: -1 above, 1 below.
struct StepCoil {
    int step = 1;
    bool operator==(const StepCoil&) const = default;
};
// The next one of what can be asked: which line it is, only its grain class, only its density
// grade, and whether it fishes like the class that is chosen or most probable now.
struct AskNext {
    bool operator==(const AskNext&) const = default;
};
// The most telling reading first, or the most telling for its time.
struct AskInOtherOrder {
    bool operator==(const AskInOtherOrder&) const = default;
};
// A readings file: all its coils with their readings, or nothing.
struct TakeInFile {
    std::string path;
    bool operator==(const TakeInFile&) const = default;
};

using Command =
    std::variant<ChooseCoil, EnterCode, MakeCoil, GiveCode, SaveReading, SaveNotes, LookForScan,
                 TakeBackReading, TakeBackOdd, CorrectUnits, PressStopwatch, DropStopwatch,
                 WriteLabel, SavePicture, Confirm, TakeBackConfirmation, NextCoil, StepCoil,
                 AskNext, AskInOtherOrder, TakeInFile, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::bench_page
