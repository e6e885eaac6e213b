// The seals of the history: each act carries the SHA-256 of the seal before it and of all that it
// wrote, so that a bit that flips in any of it, or an edit by another tool, does not go unseen.
//
// Without a key: it finds damage and careless edits, and proves nothing against somebody who makes
// new seals on purpose. What the tables hold beside the history is held against it by audit.h.
//
// Sealed, in this order, each piece with its kind and length (db/digest.h): "coilbook seal 1"; the
// seal before, or NULL for the first act; the act's id, at_utc, who, program, what and why; the id
// of the act that it takes back, or NULL; its changes in their order (thing_table, thing, field,
// was, became); then every reading, verdict, confirmation, outing, promise, handover, condition and
// photograph that came to be in it, in the order of its changes, with all columns, rows that it
// points to being named by their ids; a picture's bytes by their digest. Row numbers are left out,
// so that a catalogue can be copied row by row. What a client is called is not sealed, so that it
// can be erased.
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

    // The acts whose seals do not fit, the oldest first; after one that does not fit, the next is
    // held against the seal that stands there, so that each is told by itself. Reads the whole
    // history. Throws Error where the file cannot be read.
    [[nodiscard]] std::vector<BrokenSeal> broken();
    // The same of the last act alone, and that none is unsealed. Looks no further than `most`
    // changes: of an act with more, only that its seal is there. Quick.
    [[nodiscard]] std::vector<BrokenSeal> last_broken(std::int64_t most = 500);

  private:
    // The seal of an act that follows the one sealed with `before`.
    [[nodiscard]] std::string seal_of(std::int64_t act, const std::optional<std::string>& before);
    [[nodiscard]] std::optional<BrokenSeal> fault_of(std::int64_t act,
                                                     const std::optional<std::string>& found,
                                                     const std::optional<std::string>& before);

    db::Statement act_;
    std::vector<db::Statement> parts_;  // what is sealed after the act itself
    db::Statement unsealed_;
    db::Statement last_seal_;
    db::Statement insert_;
    db::Statement all_;
    db::Statement last_two_;
    db::Statement strays_;
    db::Statement size_;
};

}  // namespace coilbook::store
