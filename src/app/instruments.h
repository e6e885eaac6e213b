// The bench's instruments: what is known of each, and whether its check still counts.
//
// How they are checked stands in instrument_check.h and instrument_coatings.h, how they come into
// the catalogue in instrument_changes.h.
#pragma once

#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "app/instrument_kinds.h"
#include "app/table.h"
#include "app/workshop.h"
#include "metrology/calibration.h"
#include "quantity/unit_set.h"

namespace coilbook::app {

// Whether an instrument was checked, and whether that still counts: the setting
// `instrument_check_days` says how long, else a year.
enum class CheckState { never, counts, again };
[[nodiscard]] std::string_view name_of(CheckState state);  // "never checked", "checked", …

struct KnownInstrument {
    InstrumentKey key;
    AnyInstrument instrument;              // as the catalogue has it, from its maker or its check
    std::optional<CoatingOffset> on_soft;  // of micrometers: what counts for coatings instead
    CheckState state = CheckState::never;
    std::optional<Instant> checked_at;  // the last time, on standards or on coatings
    std::optional<Instant> due_at;      // when that has run out
    std::string as_written;             // the last check on standards, a line for each reading
};

// All of them, kind by kind, the default one of each kind first. Throws Error.
[[nodiscard]] std::vector<KnownInstrument> known_instruments(Workshop& workshop);

// What is known of it in short sentences, the most important first: what it is off by, how its
// readings scatter, when it was checked and when that has run out.
struct InstrumentInWords {
    std::string reads;     // "reads 0.06 ± 0.02 gr too much", "never checked: …"
    std::string checked;   // "last checked 12 March 2026; check again in 3 months"; or empty
    std::string scatters;  // "readings of one thing scatter by 0.03 gr"
    std::string shows;     // "shows steps of 0.1 gr; good to ± 0.1 gr, says its maker"
    std::string on_soft;   // of micrometers: what it does to coatings
};
// Figures are in `unit`; in the kind's usual one where that is empty.
[[nodiscard]] InstrumentInWords in_words(const KnownInstrument& known, Instant now,
                                         std::string_view unit = {});

// The unit in which it shows, as far as its last check on standards tells: "g"; empty where it was
// never checked on any. For the bare numbers that it types.
[[nodiscard]] std::string unit_shown_by(const KnownInstrument& known);
// The unit in which a person types figures of it and reads them: the one that it shows, where that
// is known; else, of a scale, that of the chosen set, and of all others the usual one.
[[nodiscard]] std::string unit_to_type(const KnownInstrument& known, const Units& units);
[[nodiscard]] std::string_view unit_to_type(InstrumentKind kind, const Units& units);

// "12 March 2026", in UTC.
[[nodiscard]] std::string day_in_words(Instant at);

// Every instrument: `kind, instrument, unit, resolution, limit_of_error, repeatability, offset,
// offset_u, coating_u, checked_at, check`. Figures are in `unit`: gr, mm, s or K. `coating_u` is of
// micrometers: how much soft coatings add. `check` is `never checked`, `checked` or `check again`.
void list_instruments(Workshop& workshop, std::ostream& out, Format format,
                      std::size_t terminal_width = 0);

}  // namespace coilbook::app
