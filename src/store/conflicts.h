// What a person has to settle after copies came together.
//
// Where two people changed the same thing, neither knowing of the other, the later one in the
// order of the history stands (replay.h) and the other is kept. Both are shown here until somebody
// who knows of both says what is right, which is an act like any other (settling.h).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/instant.h"
#include "db/statement.h"
#include "store/lineage.h"

namespace coilbook::store {

enum class ConflictKind {
    field,         // a field was changed to two values
    ended,         // a thing was retired or undone, and used or changed elsewhere
    reading,       // two readings of what has one value, or two corrections of one reading
    confirmation,  // two words on what a coil is
    place,         // two handovers of a thing
    tip,           // two tips on one rig
    code,          // two things go by one code
};
[[nodiscard]] std::string_view name_of(ConflictKind kind);

// One of the answers that there are.
struct Choice {
    std::string thing;  // the id of the row: a reading, a confirmation, a handover, a coil …
    db::Value value;    // of field and ended: what the field is to hold; else what to show
    std::string act;    // the id of the act that says so
    bool stands = false;

    bool operator==(const Choice&) const = default;
};

struct Conflict {
    std::string id;  // eight characters that are the same in every copy
    ConflictKind kind = ConflictKind::field;
    std::string table;  // of the thing that it is about
    std::string thing;  // its id; of a class or a setting the name; of `code` the code
    std::string field;
    std::vector<Choice> choices;  // at least two, in the order of the history

    bool operator==(const Conflict&) const = default;
};

class Conflicts {
  public:
    explicit Conflicts(const db::Database& database);

    // All that there are, by kind, then in the order of the history. Reads what was done since
    // copies were first apart. Throws Error.
    [[nodiscard]] std::vector<Conflict> list();

  private:
    void find_fields(const Lineage& lineage, std::vector<Conflict>& found);
    void find_confirmations(const Lineage& lineage, std::vector<Conflict>& found);
    void find_places(const Lineage& lineage, std::vector<Conflict>& found);
    void find_tips(std::vector<Conflict>& found);
    void find_readings(std::vector<Conflict>& found);
    void find_codes(std::vector<Conflict>& found);

    db::Database database_;
};

}  // namespace coilbook::store
