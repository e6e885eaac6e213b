// Checking an instrument: check weights, gauge pins or blocks, each read again and again, tell what
// it is off by, how its readings scatter, and whether one offset fits all.
//
// The window lays on one standard after another and looks at the result while it grows; the command
// line takes in a table. Both end in the same act.
#pragma once

#include <optional>
#include <ostream>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "app/instrument_kinds.h"
#include "app/table.h"
#include "app/workshop.h"
#include "metrology/calibration.h"

namespace coilbook::app {

// How the uncertainty of a standard is stated on its box or certificate.
enum class StatedAs {
    tolerance,             // within plus or minus this: a rectangle, u = a / √3
    standard_uncertainty,  // k = 1
    expanded,              // k = 2, as most certificates have it: u = U / 2
};
// The standard uncertainty, k = 1. Source: GUM (JCGM 100:2008), 4.3.7 and 4.3.3.
[[nodiscard]] ShownFigure standard_uncertainty(const ShownFigure& stated, StatedAs as);

// One standard and what the instrument showed for it, as it came.
struct StandardRead {
    ShownFigure stated;
    ShownFigure stated_uncertainty;       // k = 1
    std::string written;                  // both, as they are kept: "100 gr,0.01 gr"
    std::vector<ShownFigure> readings;    // one at least, before anything is reckoned with it
    std::vector<std::string> as_written;  // of each reading: "100.3 gr"

    bool operator==(const StandardRead&) const = default;
};
// A standard from what people type, a bare number in `unit`. A Problem with field `standard` or
// `standard_u` says what is wrong with which.
[[nodiscard]] Result<StandardRead> standard_of(InstrumentKind kind, std::string_view stated,
                                               std::string_view sure_to, StatedAs as,
                                               std::string_view unit);
// Adds one reading of it. A Problem with field `reading`.
[[nodiscard]] Result<void> add_reading(StandardRead& standard, InstrumentKind kind,
                                       std::string_view text, std::string_view unit);

using AnyCalibration = std::variant<Calibration<Mass>, Calibration<Length>, Calibration<Duration>,
                                    Calibration<TemperatureDifference>>;

// What the check tells so far; nothing is kept. A Problem (field `standard_u`) where nothing tells
// how sure it is: an exact standard on an instrument without steps and scatter.
// REQUIRES: figures of what the instrument reads; one standard at least, each with a reading.
[[nodiscard]] Result<AnyCalibration> judge_check(const AnyInstrument& instrument,
                                                 std::span<const StandardRead> standards);

// What a check means, in whole sentences without figures that only a metrologist reads.
struct CheckInWords {
    std::string offset;   // "It reads 0.25 ± 0.02 gr too much."
    bool is_off = false;  // by more than chance explains
    std::string scatter;  // "Readings of one thing scatter by 0.058 ± 0.020 gr."
    std::string fit;      // "One offset fits all 3 standards."
    bool fits = true;
    bool tells_fit = false;  // two standards or more: one alone fits itself
    std::string from_now;    // what is done with it once it is saved
    std::string surer;       // what would make it surer; may be empty
};
[[nodiscard]] CheckInWords in_words(const AnyInstrument& instrument, const AnyCalibration& found,
                                    std::string_view unit);

// The readings of one standard so far, in words and marks.
struct RepeatsInWords {
    std::string mean;          // "100.25 gr"
    std::string scatter;       // "0.058 gr"; empty with a single reading
    std::vector<bool> is_odd;  // one for each: unlike the others (metrology/repeats.h)
};
[[nodiscard]] RepeatsInWords repeats_in_words(const AnyInstrument& instrument,
                                              std::span<const ShownFigure> readings,
                                              std::string_view unit);

// Puts what the check found into the instrument's figures and keeps the check, in one act. Gives
// what was found. A Problem as judge_check has it, and where there is no such instrument; then
// nothing has happened. Throws Error.
[[nodiscard]] Result<AnyCalibration> check_instrument(Workshop& workshop, const InstrumentKey& key,
                                                      std::span<const StandardRead> standards);

// The standards of a check that is kept, from its lines (KnownInstrument::as_written). Lines that
// cannot be read any more are left out.
[[nodiscard]] std::vector<StandardRead> standards_kept(InstrumentKind kind,
                                                       std::string_view as_written);

// Takes in a table of checks against standards (exchange/bench_tables.h): what each instrument is
// off by goes into its figures, and the check is kept; all in one act, or nothing and everything
// that is wrong. Writes one row for each instrument: `kind, instrument, unit, standards, readings,
// offset, offset_u, offset_95, repeatability, repeatability_u, chi_square, chance,
// stretch_percent, stretch_percent_u`; a table has a sentence instead of the last four.
// Throws Error if the disk fails.
[[nodiscard]] Done check_instruments(Workshop& workshop, std::istream& file,
                                     const std::string& file_name, std::ostream& out, Format format,
                                     std::size_t terminal_width = 0);

}  // namespace coilbook::app
