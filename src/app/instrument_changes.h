// Instruments come into the catalogue, one at a time or from a file, and get their maker's figures.
//
// What a check has found is not changed here: only another check, or undoing it, does that.
#pragma once

#include <filesystem>

#include "app/instrument_kinds.h"
#include "app/workshop.h"

namespace coilbook::app {

// What the maker says of an instrument; spans, none negative.
struct MakersFigures {
    ShownFigure resolution;      // width of one step of the display
    ShownFigure limit_of_error;  // good to plus or minus this
    ShownFigure repeatability;   // standard deviation of repeated readings, where it is stated

    bool operator==(const MakersFigures&) const = default;
};
[[nodiscard]] MakersFigures makers_figures(const AnyInstrument& instrument);

// Adds an instrument, in one act. A Problem (field `code`) where the code is empty, cannot be one
// or is taken by another of the kind, and (field `limit_of_error`) where all figures are zero.
// REQUIRES: figures of what the kind reads. Throws Error, as the next does.
[[nodiscard]] Result<void> add_instrument(Workshop& workshop, const InstrumentKey& key,
                                          const MakersFigures& figures);

// Gives an instrument, the default one of a kind too, these figures in place of those that it has,
// in one act. One that was checked keeps its limit of error and its repeatability: a Problem (field
// `limit_of_error` or `repeatability`) says so. REQUIRES: figures of what the kind reads.
[[nodiscard]] Result<void> change_figures(Workshop& workshop, const InstrumentKey& key,
                                          const MakersFigures& figures);

// Puts the instruments of an instruments file into the catalogue, in one act. An instrument that
// was checked keeps what its check found: a row that says otherwise is a Problem, and nothing is
// done.
[[nodiscard]] Done take_in_instruments(Workshop& workshop, const std::filesystem::path& path);

}  // namespace coilbook::app
