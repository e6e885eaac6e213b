// What is known about each class of a catalogue's library, and about the coils confirmed as it:
// what a person looks at who wants to know what the answers stand on.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/confirmed_coils.h"
#include "app/workshop.h"
#include "catalog/reference_class.h"

namespace coilbook::app {

// A line, in the figures that a person asks for; its sink rate level, in still fresh water of
// 10 °C, negative where it rises.
struct LineFigures {
    LinearDensity weight_per_length;
    Length diameter;
    Density density;
    Speed sink_rate;

    bool operator==(const LineFigures&) const = default;
};
// Of the line in the middle of a distribution: its medians.
[[nodiscard]] LineFigures middle_of(const LineDistribution& line);

struct ClassSheet {
    ReferenceClass now;       // as the engine uses it, with what it learned
    LineDistribution before;  // as built in; equal to now.line where nothing was learned
    LineFigures middle, middle_before;
    int learned_from = 0;  // confirmed coils that taught it something
    int set_aside = 0;     // confirmed coils that look wrong, so nothing was learned from them
    int silent = 0;        // confirmed coils whose readings say nothing about weight and density

    [[nodiscard]] bool has_learned() const { return learned_from > 0; }
    [[nodiscard]] bool is_line() const { return now.family != Family::unlisted; }
    // How far the middle moved, and by what share of what it was.
    [[nodiscard]] LinearDensity weight_moved() const;
    [[nodiscard]] double weight_moved_share() const;
    [[nodiscard]] double density_moved_share() const;

    bool operator==(const ClassSheet&) const = default;
};

// Every class, in the library's order.
[[nodiscard]] std::vector<ClassSheet> class_sheets(const Workshop& workshop,
                                                   const std::vector<SaidCoil>& coils);

// A confirmed coil beside its class.
struct ConfirmedExample {
    Coil coil;
    std::string class_name;
    // What its readings say of its line; nothing where they leave weight or density open.
    std::optional<LineDistribution> line;
    bool is_set_aside = false;
    double chance = 1.0;       // of one set aside: that a right one lies as far out or farther
    std::string better_class;  // that it fits better; may be empty
    std::string doubt;         // the same in a sentence; empty for any that looks right

    bool operator==(const ConfirmedExample&) const = default;
};
// One for each of `coils`, in their order.
[[nodiscard]] std::vector<ConfirmedExample> confirmed_examples(const Workshop& workshop,
                                                               const std::vector<SaidCoil>& coils);

}  // namespace coilbook::app
