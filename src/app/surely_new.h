// Which rows of a large file surely mean new things, so that nothing has to be looked up for them.
//
// It knows the greatest id that the table had, since ids begin with the moment in which they were
// made and new ones sort behind it, and by fingerprint all names that stand (a coil's code, the
// field of a coil's reading) and all ids and names that it was told of since. Some 32 bytes for
// each; two different ones with one fingerprint cost only a look.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

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
    [[nodiscard]] bool is_told(std::string_view words);

    const store::Kind& kind_;
    std::string greatest_id_;
    exchange::CodesSeen told_;
    std::size_t asked_ = 0;
};

}  // namespace coilbook::app
