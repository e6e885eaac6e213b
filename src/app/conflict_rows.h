// What is to be settled after laptops came together, and settling it.
//
// Where two people changed the same thing apart, the later one in the order of the history stands,
// and both are shown until somebody says what is right.
#pragma once

#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/table.h"
#include "app/workshop.h"

namespace coilbook::app {

// One of the answers that there are.
struct ConflictChoice {
    std::string value;          // in words
    bool stands = false;        // until it is settled
    std::optional<Instant> at;  // when it was said, by whom, where and by what act
    std::string who, laptop, what;
};
struct ConflictToSettle {
    std::string id;    // eight characters that are the same on every laptop
    std::string kind;  // field, ended, reading, confirmation, place, tip or code
    std::string thing, field;
    std::vector<ConflictChoice> choices;  // at least two
};
[[nodiscard]] std::vector<ConflictToSettle> conflicts_of(Workshop& workshop);

// A row for each choice: conflict, kind, thing, field, choice, value, stands, at, who, laptop,
// what. `conflict` is eight characters that are the same on every laptop, `choice` counts from 1,
// `stands` is yes for what counts until it is settled. `kind` is field, ended (retired or undone
// here, used there), reading, confirmation, place, tip (two on one rig) or code. Gives how many
// conflicts there are.
std::size_t write_conflicts(Workshop& workshop, std::ostream& out, Format format,
                            std::size_t terminal_width = 0);

// Makes a choice what is right, as an act. `conflict` is its id or the beginning of it. Where two
// things share a code, the chosen one keeps it and the others are given new ones; where two tips
// are on one rig, the others go into its wallet. Gives what was done, a sentence each. A Problem
// where there is no such conflict or choice.
[[nodiscard]] Result<std::vector<std::string>> settle(Workshop& workshop, std::string_view conflict,
                                                      int choice);

}  // namespace coilbook::app
