// The seals of the history: each act carries the SHA-256 of the seals of the acts that it was built
// on and of all that it wrote, so that a bit that flips in any of it, or an edit by another tool,
// does not go unseen. A seal vouches for the whole past of its act, and stays with it in every
// copy.
//
// Without a key: it finds damage and careless edits, and proves nothing against somebody who makes
// new seals on purpose. What the tables hold beside the history is held against it by audit.h.
//
// Sealed, in this order, each piece with its kind and length (db/digest.h): "coilbook seal 2"; how
// many acts this one has seen, and their seals in the order of their ids; the act's id, at_utc,
// who, program, what and why; the id of the act that it takes back, or NULL; clock_ms and laptop;
// its changes in their order (thing_table, thing, field, was, became); then, table by table in the
// order of growing_tables.h, every row that is never changed and came to be in it, in the order of
// its changes, with all columns, rows that it points to being named by their ids. Form 1, of acts
// from before catalogues could be merged: "coilbook seal 1"; the seal of the act before, or NULL
// for the first; the rest without clock_ms, laptop and checks of instruments. A
// picture's bytes are taken up by their digest. Row numbers are left out, so that a catalogue can
// be copied row by row. Of an act of which something was pruned the check holds what is left
// against a seal of its own (schema step 8). What a client is called is not sealed, so that it can
// be erased.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "db/statement.h"
#include "store/act.h"

namespace coilbook::store {

// An act whose seal does not fit what it wrote.
struct BrokenSeal {
    std::string act;  // its id, if that can be read
    std::string what_is_wrong;

    bool operator==(const BrokenSeal&) const = default;
};

class Seals {
  public:
    explicit Seals(const db::Database& database);

    // Seals all acts that follow the last sealed one. Throws Error.
    void seal(db::Transaction& transaction);

    // Seals what is left of an act of which something was pruned; its own seal stays, for those
    // that are built on it. Throws Error.
    void seal_what_is_left(db::Transaction& transaction, std::int64_t act);

    // The acts whose seals do not fit, the oldest first; after one that does not fit, the next is
    // held against the seal that stands there, so that each is told by itself. Reads the whole
    // history. Throws Error where the file cannot be read.
    [[nodiscard]] std::vector<BrokenSeal> broken();
    // The same of the last act alone, and that none is unsealed. Looks no further than `most`
    // changes: of an act with more, only that its seal is there. Quick.
    [[nodiscard]] std::vector<BrokenSeal> last_broken(std::int64_t most = 500);

  private:
    // The seal of an act, from those of the acts that it has seen.
    [[nodiscard]] std::string seal_of(std::int64_t act);
    [[nodiscard]] std::optional<BrokenSeal> fault_of(std::int64_t act,
                                                     const std::optional<std::string>& found);

    db::Statement act_;
    db::Statement changes_;
    std::vector<db::Statement> parts_;  // rows that only grow, which are sealed after the changes
    db::Statement unsealed_;
    db::Statement form_;
    db::Statement seen_;
    db::Statement insert_;
    db::Statement left_;
    db::Statement insert_left_;
    db::Statement all_;
    db::Statement last_;
    db::Statement strays_;
    db::Statement size_;
};

}  // namespace coilbook::store
