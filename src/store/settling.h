// Settling what copies disagree on (conflicts.h): a person says what is right.
//
// It is an act like any other. It has seen both sides, so that wherever it is merged the matter is
// settled; and it says so in the history also where what stands already is what was chosen.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/result.h"
#include "store/act.h"
#include "store/conflicts.h"

namespace coilbook::store {

// What settling needs from outside.
struct SettlingMeans {
    std::function<std::string()> new_id;
    // A code (of a boat a name) for a thing of that table, in place of the one that it shares.
    std::function<std::string(const std::string& table, const std::string& code)> new_code;
};

// A thing that was given another code, and needs another label.
struct Recoded {
    std::string table;
    std::string was;
    std::string code;

    bool operator==(const Recoded&) const = default;
};

class Settling {
  public:
    explicit Settling(const db::Database& database);

    // Makes the choice of that number, from 0, what is right. Of readings it withdraws the others,
    // of a word or a place it says it anew, of tips it puts the others into the wallet, of a code
    // it gives the others new ones, which it returns. A Problem for a number that there is not.
    // Throws Error. REQUIRES: `conflict` is from this catalogue as it is now.
    [[nodiscard]] Result<std::vector<Recoded>> settle(Act& act, const Conflict& conflict,
                                                      std::size_t choice,
                                                      const SettlingMeans& means);

  private:
    void set_field(Act& act, const Conflict& conflict, const db::Value& value);
    void set_setting(Act& act, const Conflict& conflict, const db::Value& value);

    db::Database database_;
};

}  // namespace coilbook::store
