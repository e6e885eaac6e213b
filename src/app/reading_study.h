// A study of how well people read: several coils, each read several times by several people.
//
// What differs between the readings is taken apart into what one person does, what people do, and
// what the coils are (metrology/gauge_study.h). No catalogue is needed, and none is changed.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <ostream>
#include <span>
#include <string>
#include <vector>

#include "app/instrument_kinds.h"
#include "app/table.h"
#include "app/workshop.h"

namespace coilbook::app {

struct StudyReading {
    std::string coil, person;
    ShownFigure reading;
};

// One part of what differs.
struct StudyPart {
    std::string name;  // "repeatability", "people", "people_by_coil", "gauge", "coils", …
    ShownFigure standard_deviation;  // a span
    double of_spread = 0.0;          // of the whole standard deviation, 0 … 1
    double of_variance = 0.0;        // of the whole variance: those of the parts add up to 1
};
struct StudyFound {
    std::vector<StudyPart> parts;  // the six of the contract, in its order
    // How much of all that differs (of the variance) is reading and not coils, 0 … 1; nothing with
    // one coil.
    std::optional<double> gauge_of_variance;
    std::string judgement;               // in one sentence: whether it is good enough
    std::vector<std::string> sentences;  // what each part means
};

// The study in the readings, in any order. A Problem (field `reading`) unless each person read each
// coil equally often and at least twice, and where the readings are temperatures.
// REQUIRES: all readings of one kind of quantity.
[[nodiscard]] Result<StudyFound> study_of(std::span<const StudyReading> readings,
                                          std::string_view unit);

// Who reads which coil when: place in `people`, place in `coils`, and for which time, from 1.
struct Turn {
    std::size_t person = 0, coil = 0;
    int time = 1;

    bool operator==(const Turn&) const = default;
};
// Round by round, person by person, each reading all coils: as they are listed, or shuffled anew
// each time, so that nobody remembers what they read before. `seed` makes the shuffle.
[[nodiscard]] std::vector<Turn> turns_of(std::size_t people, std::size_t coils, int times,
                                         std::optional<std::uint64_t> seed);

// The rows of a study file, `coil,person,reading [unit]`, as the command line takes them. Texts
// of readings are written as they came.
struct StudyRowAsWritten {
    std::string coil, person, reading;
};
void write_study(std::ostream& out, std::span<const StudyRowAsWritten> rows, std::string_view unit);
// Writes them into a new file beside the catalogue, named after the moment, and gives its place.
// A Problem where the catalogue is no file. Throws Error if the disk fails.
[[nodiscard]] Result<std::filesystem::path> keep_study(Workshop& workshop,
                                                       std::span<const StudyRowAsWritten> rows,
                                                       std::string_view unit);

// A gauge study: `part, standard_deviation, unit, percent_of_spread`, for repeatability, people,
// people_by_coil, gauge, coils and total; below a table, in words what it means. No catalogue is
// needed.
[[nodiscard]] Done study_readings(std::istream& file, const std::string& file_name,
                                  std::ostream& out, Format format, std::size_t terminal_width = 0);

}  // namespace coilbook::app
