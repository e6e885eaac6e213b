// Bringing a catalogue together with acts from another copy of it.
//
// The catalogue then holds the acts of both, and its tables are what all of them made, in their one
// order (replay.h). So it does not matter which of two copies takes in the other, in which order
// several meet, or how often. Nothing is an act here: the history has what people did, where they
// did it, and two copies that know the same acts are the same.
#pragma once

#include <functional>
#include <vector>

#include "base/result.h"
#include "store/act_record.h"
#include "store/catalogue.h"

namespace coilbook::store {

struct MergeOptions {
    // Whether catalogues that were made apart, and so share no act, may become one.
    bool joins_strangers = false;
    // Whether nothing is kept: what would happen is all that is wanted.
    bool is_dry_run = false;
    // Called when all is well and something is about to be kept, while the file still has what it
    // had: for a backup. What it throws stops the merge.
    std::function<void()> before_keeping = {};
};

struct Merged {
    std::vector<ActNote> came;  // the acts that came in, in the order of the source
    int known = 0;              // acts of the source that were here already
    int persons = 0;            // clients of whom something newer was told
    int forgotten = 0;          // clients who were forgotten elsewhere, and are so here now
    int damaged_pictures = 0;   // left out, since they are not what their photographs name
    int pictures_back = 0;      // that were lost or damaged here, and are whole again
};

// Takes in what `theirs` has and `catalogue` has not, all or nothing, and looks at the result as
// `coilbook check` does. A Problem, and nothing has happened, where an act of both is not the same
// in both, where an act was built on one that is nowhere, where the two were made apart, and where
// the result would not be sound. Throws Error where a file cannot be read or written.
[[nodiscard]] Result<Merged> merge(Catalogue& catalogue, ActSource& theirs,
                                   const MergeOptions& options = {});
// The same from another catalogue, which stays as it is.
[[nodiscard]] Result<Merged> merge(Catalogue& catalogue, const Catalogue& other,
                                   const MergeOptions& options = {});

// All acts of a catalogue, and what is known of its clients. REQUIRES: it outlives the answer.
[[nodiscard]] RecordedActs acts_of(const Catalogue& catalogue);

}  // namespace coilbook::store
