// What was read off the coils. Rows are only ever added: a correction supersedes, a withdrawal is a
// reading without a value that supersedes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/coil.h"
#include "catalog/readings.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

// A coil with all that is known of it, for looking at the whole bin at once.
struct BinEntry {
    Coil coil;
    std::optional<std::string> confirmed_class;
    CoilReadings readings;

    bool operator==(const BinEntry&) const = default;
};

class ReadingRepository {
  public:
    explicit ReadingRepository(const db::Database& database);

    // Adds a reading, a correction or a withdrawal (catalog/coil.h). A Problem says
    //  - that the instrument is not known (its kind follows from the field),
    //  - that the field has been read already: all but diameters have one current value, and a
    //    second is a correction that names the one it supersedes,
    //  - that the superseded reading is not a current one of this field of this coil.
    // Throws Error for a coil or an id that does not fit the catalogue.
    // REQUIRES: the value is of the field's type (read_values), or nothing and supersedes is set.
    [[nodiscard]] Result<void> add(Act& act, const Reading& reading);

    // What add() asks before it writes, and the number of the instrument. REQUIRES: as add().
    enum class OthersOfCoil { ask, do_not_matter };  // as who calls may know already
    [[nodiscard]] Result<std::optional<std::int64_t>> check(
        const Reading& reading, OthersOfCoil others = OthersOfCoil::ask);

    // Everything that was read off the coil and not undone, oldest first, superseded ones and
    // withdrawals included; empty for an unknown coil. Throws Error, as all reading functions here
    // do.
    [[nodiscard]] std::vector<Reading> all_of(const Id<Coil>& coil);
    // Those that count now: neither superseded nor withdrawn, oldest first.
    [[nodiscard]] std::vector<Reading> current_of(const Id<Coil>& coil);
    // The same, ready for the physics. Of several instruments of one kind the last one is named.
    [[nodiscard]] CoilReadings readings_of(const Id<Coil>& coil);

    // All coils that are not retired, by code, each with its current readings. Two queries, of one
    // moment, however many coils there are.
    [[nodiscard]] std::vector<BinEntry> bin();
    // That of one coil; nothing where it is not in the bin: unknown, retired or undone.
    [[nodiscard]] std::optional<BinEntry> bin_entry(const Id<Coil>& coil);

  private:
    db::Database database_;
    db::Statement insert_;
    db::Statement find_instrument_;
    db::Statement list_all_;
    db::Statement list_current_;
    db::Statement list_bin_;
    db::Statement list_bin_readings_;
    db::Statement find_in_bin_;
    db::Statement list_readings_in_bin_;
};

// Puts the reading in a row into its field: the columns field, value_si, value_text,
// standard_uncertainty_si and instrument_code ("" where none is named).
void put_reading_of(CoilReadings& readings, const db::Row& row);

// The kind of instrument that a field is read with: "scale", "tape", "micrometer", "stopwatch",
// "thermometer"; nothing for what is only looked at.
[[nodiscard]] std::optional<std::string_view> instrument_kind_of(ReadingField field);

}  // namespace coilbook::store
