// Checks of instruments as a person enters them, for tests: a table of weights, an instruments
// file.
#pragma once

#include <doctest/doctest.h>

#include <sstream>
#include <string>

#include "app/instrument_changes.h"
#include "app/instrument_check.h"
#include "app/instruments.h"
#include "support/temporary_folder.h"
#include "support/words.h"

namespace coilbook::app {

// A scale S2 that reads 0.25 gr too much, on two weights.
inline constexpr const char* weights =
    "instrument,standard [gr],standard_u [gr],reading [gr]\n"
    "S2,100,0.01,100.3\n"
    "S2,300,0.02,300.2\n"
    "S2,100,0.01,100.2\n"
    "S2,100,0.01,100.3\n"
    "S2,300,0.02,300.3\n"
    "S2,300,0.02,300.2\n";

inline void take_in(Workshop& workshop, const char* file) {
    const TemporaryFolder folder;
    write_bytes(folder / "shop.csv", file);
    REQUIRE(take_in_instruments(workshop, folder / "shop.csv").has_value());
}

struct Checked {
    bool is_done;
    std::string out;
    std::string problem;
};
inline Checked check(Workshop& workshop, const std::string& text, Format format = Format::csv) {
    std::istringstream file(text);
    std::ostringstream out;
    const auto done = check_instruments(workshop, file, "c.csv", out, format);
    return {done.has_value(), out.str(), done ? "" : to_line(done.error().front())};
}

inline std::string list(Workshop& workshop) {
    std::ostringstream out;
    list_instruments(workshop, out, Format::csv);
    return out.str();
}

}  // namespace coilbook::app
