// Which rows of a large file surely mean new things, so that nothing has to be looked up for them.
//
// It knows all names that stand (a coil's code, the field of a coil's reading) and that were noted
// since, by fingerprint and in some 32 bytes each; where two names have one fingerprint, that costs
// a look. Ids begin with the moment in which they were made, so those of new rows sort behind all
// that were there, and mostly behind each other: an id that does not, and is not of the latest
// moment, is not surely new. Nor are, mostly, the readings of a table made by hand, whose ids begin
// with the moment in which they were taken.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <unordered_set>

#include "exchange/codes_seen.h"
#include "store/kinds.h"

namespace coilbook::app {

class SurelyNew {
  public:
    // Reads the names and the greatest id of `table`. REQUIRES: its kind comes in masses.
    explicit SurelyNew(const store::KindRepository& table);

    // Notes a row that is about to come in. Gives whether it is surely new: neither the table nor a
    // row that was noted has its id or its name, and it may come in with others. A row without an
    // id is known by its name alone.
    bool note(const store::KindRow& row);
    // Notes the name that a row has now.
    void note_name_of(const store::KindRow& row);

  private:
    // Whether it is new.
    bool note_name(std::string_view name);
    bool note_id(std::string_view id);

    const store::Kind& kind_;
    std::string greatest_id_;
    exchange::CodesSeen names_;
    std::size_t names_noted_ = 0;
    std::string moment_;  // the latest, of ids that were noted
    std::unordered_set<std::string> ids_of_moment_;
};

}  // namespace coilbook::app
