// Which rows of a large file surely mean new things, so that nothing has to be looked up for them.
//
// It knows all names that stand (a coil's code, the field of a coil's reading) and that it was told
// of since, by fingerprint and in some 32 bytes each. Ids begin with the moment in which they were
// made, so those of new rows sort behind all that were there and mostly behind each other; those of
// the last moment are kept, any earlier one may be an old one. Where two names have one
// fingerprint, that costs a look.
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

    // Whether neither the table nor a row that was asked about has the id or the name of `row`, and
    // it may come in with others. A row without an id is known by its name alone.
    [[nodiscard]] bool is_new(const store::KindRow& row);
    // Says that a row has its name from now on, whether it was asked about or not.
    void note_name(const store::KindRow& row);

  private:
    [[nodiscard]] bool is_new_name(std::string_view name);
    [[nodiscard]] bool is_new_id(std::string_view id);

    const store::Kind& kind_;
    std::string greatest_id_;
    exchange::CodesSeen names_;
    std::size_t asked_ = 0;
    std::string moment_;  // the latest, of ids that were asked about
    std::unordered_set<std::string> ids_of_moment_;
};

}  // namespace coilbook::app
