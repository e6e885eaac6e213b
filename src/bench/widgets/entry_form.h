// A few fields to fill in one after the other: Enter goes on to the next, and from the last one the
// whole is to be saved.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "bench/widgets/look.h"

namespace coilbook::bench {

struct EntryField {
    std::string id;  // "rod"; the witness knows it by this name
    std::string label;
    std::string hint = {};
    std::string typed = {};
    std::string note = {};   // what is there to choose from
    std::string error = {};  // what is wrong with it

    bool operator==(const EntryField&) const = default;
};

struct EntryForm {
    std::string title;
    std::vector<EntryField> fields;
    std::size_t at = 0;       // the field that has the keyboard
    int frames_to_focus = 3;  // above 0: it is being given the keyboard
    std::string error = {};   // of the whole

    bool operator==(const EntryForm&) const = default;
};

// What is typed in the field of that id. REQUIRES: the form has it.
[[nodiscard]] const std::string& typed_in(const EntryForm& form, std::string_view id);
// Says beside that field what is wrong, and goes there; where the form has no such field, below
// all.
void refuse(EntryForm& form, std::string_view id, const std::string& error);
[[nodiscard]] bool has_typed(const EntryForm& form);

// The next field down, or up where `by` is negative.
void go_on(EntryForm& form, int by);

// Draws title and fields, as wide as the space that is left. Gives whether Enter was pressed in the
// last field.
[[nodiscard]] bool draw_entry_form(const Look& look, EntryForm& form);

}  // namespace coilbook::bench
