// How the instruments were checked: against standards, and micrometers on coatings.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/id.h"
#include "base/instant.h"
#include "db/statement.h"
#include "metrology/calibration.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

// One check of one instrument against standards, as it was read.
struct InstrumentCheck {
    Id<InstrumentCheck> id;
    std::string kind;  // "scale", "tape", "micrometer", "stopwatch", "thermometer"
    std::string code;  // empty: the default of its kind
    Instant at;
    std::string as_written;  // a line for each reading: standard, its uncertainty, reading

    bool operator==(const InstrumentCheck&) const = default;
};

// What a micrometer shows on coatings.
struct CoatingRecord {
    Id<CoatingRecord> id;
    std::string code;  // of the micrometer
    Instant at;
    CoatingOffset found;
};

class CheckRepository {
  public:
    explicit CheckRepository(const db::Database& database);

    // A Problem for text that is not plain. Throws Error for an instrument that the catalogue does
    // not have.
    [[nodiscard]] Result<void> add(Act& act, const InstrumentCheck& check);
    void add(Act& act, const CoatingRecord& record);

    // The last check of every instrument that was ever checked. Throws Error, as the next does.
    [[nodiscard]] std::vector<InstrumentCheck> last_checks();
    // The last one of every micrometer that was tried on coatings.
    [[nodiscard]] std::vector<CoatingRecord> last_coatings();

  private:
    db::Statement insert_check_;
    db::Statement insert_coating_;
    db::Statement list_checks_;
    db::Statement list_coatings_;
};

}  // namespace coilbook::store
