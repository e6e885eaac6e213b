// An act: one thing that somebody did to the catalogue. It is one transaction and one entry of the
// history, whole or not at all.
#pragma once

#include <string>

#include "base/id.h"
#include "base/instant.h"
#include "db/database.h"
#include "db/transaction.h"

namespace coilbook::store {

class Act;
class Seals;

// What the history says about an act. All texts are plain text (base/text.h).
struct ActNote {
    Id<Act> id;
    Instant at;
    std::string who;          // the person, as the computer knows them; may be empty
    std::string program;      // what wrote it: "coilbook 0.1.0"
    std::string what;         // "confirm A7K3 as T-11"; not empty
    std::string why;          // the person's reason, if they gave one
    std::string laptop = {};  // the computer's name; may be empty

    bool operator==(const ActNote&) const = default;
};

// The permission to write, which every writing function of a repository asks for. Only a Catalogue
// makes one (catalogue.h), and it is over when the function it was lent to returns.
class Act {
  public:
    Act(const Act&) = delete;
    Act& operator=(const Act&) = delete;

    [[nodiscard]] const ActNote& note() const { return note_; }
    // For the repositories.
    [[nodiscard]] db::Transaction& transaction() { return transaction_; }

  private:
    friend class Catalogue;
    Act(db::Database& database, Seals& seals, ActNote note);
    // Says what it was built on, seals and commits, unless nothing was changed: then there is
    // nothing to remember.
    void finish();

    db::Database& database_;
    Seals& seals_;
    ActNote note_;
    db::Transaction transaction_;
};

}  // namespace coilbook::store
