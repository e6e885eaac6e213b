// The words that stand beside the id of another thing in a table, for people: a coil's code, a
// boat's name. Where only they are there, they stand for the id; where they are the words of
// another thing, one of the two is a slip.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "app/workshop.h"

namespace coilbook::app {

struct NamedThing {
    std::string_view id_column, words_column;
    std::string_view thing, accepted;  // for messages
    // The id of what is called so now; nothing where there is none. A Problem where it cannot be
    // told which one is meant.
    Result<std::optional<std::string>> (*id_of)(Workshop& workshop, const std::string& words);
    // What the thing of that id is called, retired or not; nothing where there is none.
    std::optional<std::string> (*words_of)(Workshop& workshop, const std::string& id);
};
extern const std::array<NamedThing, 5> named_things;

}  // namespace coilbook::app
