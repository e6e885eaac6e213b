// The things that the catalogue keeps about coils, as plain values.
#pragma once

#include <optional>
#include <string>

#include "base/id.h"
#include "base/instant.h"
#include "catalog/readings.h"

namespace coilbook {

// One physical thing in the bin: a tip, head, leader or piece of bulk line, known or not.
struct Coil {
    Id<Coil> id;
    std::string code;  // the short name on its label; unique among the coils that are not retired
    std::string notes;
    Instant made_at;
    bool is_retired = false;

    bool operator==(const Coil&) const = default;
};

// One thing read off one instrument at one time, as written. Never edited: a correction is a new
// reading that supersedes the old one, and a withdrawal is one without a value.
struct Reading {
    Id<Reading> id;
    Id<Coil> coil;
    ReadingField field;
    std::string as_written;             // "22.4 gr", with the unit that counted
    std::optional<ReadingValue> value;  // nothing: the superseded reading is withdrawn
    std::string instrument;             // its code; empty: the default one
    Instant taken_at;
    std::optional<Id<Reading>> supersedes;

    bool operator==(const Reading&) const = default;
};

// The person's word for what a coil is. The last one counts; one without a class takes it back.
struct Confirmation {
    Id<Confirmation> id;
    Id<Coil> coil;
    std::optional<std::string> class_name;  // of the reference library
    std::string by;
    Instant at;
    std::string note;

    bool operator==(const Confirmation&) const = default;
};

// Whether `code` can stand on a label and in a file: 1 to 40 letters, digits, '-', '_' or '.',
// of any script, no blanks. A Problem says what is wrong.
[[nodiscard]] Result<std::string> coil_code_from(std::string_view text);

}  // namespace coilbook
