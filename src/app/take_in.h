// Taking a readings file into the catalogue: a coil for each row, with its readings.
#pragma once

#include <filesystem>
#include <istream>
#include <string>
#include <vector>

#include "app/workshop.h"

namespace coilbook::app {

struct TakenIn {
    int coils = 0;
    int readings = 0;
    std::vector<Problem> warnings = {};  // columns that are unknown and went into the notes
};
[[nodiscard]] std::string counts_in_words(const TakenIn& taken);  // "1 coil, 2 readings"

// All rows in one act, or nothing and everything that is wrong, each with its place: bad rows,
// codes that the catalogue has already, instruments that it does not know.
// `what` is the history's word for it. Throws Error if the disk fails.
[[nodiscard]] tl::expected<TakenIn, std::vector<Problem>> take_in_readings(
    Workshop& workshop, std::istream& file, const std::string& file_name, const std::string& what);

// The same from a file. The workshop's progress is told how far it is; broken off, nothing has come
// in.
[[nodiscard]] tl::expected<TakenIn, std::vector<Problem>> take_in_file(
    Workshop& workshop, const std::filesystem::path& path);

// The invented bin of the demonstration, as it was when the program was built.
[[nodiscard]] TakenIn take_in_demo(Workshop& workshop);

}  // namespace coilbook::app
