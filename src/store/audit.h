// Whether a catalogue is what it should be: the file, its references, its history and its rows.
//
// SQLite finds broken pages and indexes, but not a bit that flipped inside a value. The history
// does: every act is sealed (seals.h), and every field of every row must hold what the history says
// it last became. What can be computed again is: a reading's SI value from the words written down.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "db/database.h"
#include "store/seals.h"

namespace coilbook::store {

// One of the things looked at, with everything that is wrong with it; nothing: it is fine.
struct Inspection {
    std::string what;  // "the file", "the history", …
    std::vector<std::string> wrong;
    // Whether a fault here is damage, which a salvage settles, and on which nothing should be
    // built.
    bool is_damage = true;

    bool operator==(const Inspection&) const = default;
};

// Looks at everything; reads the whole file. Where a part cannot be read, that is what is wrong
// with it: never throws because of damage. At most a hundred sentences for each thing. `reached` is
// told how far it is, 0 to 1.
[[nodiscard]] std::vector<Inspection> audit(const db::Database& database, Seals& seals,
                                            const std::function<void(double)>& reached = {});

}  // namespace coilbook::store
