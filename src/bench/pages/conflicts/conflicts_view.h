// What the page Conflicts shows: finished strings, ready to be drawn. conflicts_desk.h fills it.
#pragma once

#include <string>
#include <vector>

#include "bench/pages/conflicts/conflicts_form.h"

namespace coilbook::bench::conflicts_page {

struct ConflictRow {
    std::string id;
    std::string thing;  // "coil A7"
    std::string what;   // "notes: changed on two laptops"
    bool is_at = false;
};

// One of the answers that there are to the conflict that is shown.
struct ChoiceRow {
    std::string value;  // "T-11"
    std::string who;    // "2026-06-14 18:30, Ann on boat-laptop: confirm coil A7 as T-11"
    bool stands = false;
};

struct View {
    std::vector<ConflictRow> rows;
    std::string nothing;  // said instead of them
    std::string title;    // "coil A7, notes: changed on two laptops"
    std::vector<ChoiceRow> choices;
    std::string failure, message;
};

}  // namespace coilbook::bench::conflicts_page
