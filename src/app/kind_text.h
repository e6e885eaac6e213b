// The cells of a carried thing as text, and back: exactly the same number, moment and words.
#pragma once

#include <string>

#include "app/table.h"
#include "exchange/records.h"
#include "store/kinds.h"

namespace coilbook::app {

// What `text` says in a column of this type. Numbers are read to the last digit and may have a
// decimal comma where the file's head says so; `yes`, `no`, `true` and `false` are flags; base64
// may be broken into lines. A Problem (field: the column) says what would be accepted.
[[nodiscard]] Result<db::Value> value_from(const store::KindColumn& column, std::string_view text,
                                           const exchange::RecordsHead& head);

// The cell for a file in this format; in CSV, text is guarded (exchange/records.h).
[[nodiscard]] Cell cell_from(const store::KindColumn& column, const db::Value& value,
                             Format format);

// The same as a CSV file says it; "" for a missing one.
[[nodiscard]] std::string written(const store::KindColumn& column, const db::Value& value);

// The same for a message: in quotes, cut where it is long; "nothing" for a missing one.
[[nodiscard]] std::string shown(const store::KindColumn& column, const db::Value& value);

}  // namespace coilbook::app
