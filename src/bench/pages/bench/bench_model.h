// From what is known about the bin and the coil in hand to what the page shows. Pure: no window, no
// database, no clock. Of the bin it looks at the lines of shared_bin.h, and puts into words only
// what is asked for.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/bin.h"
#include "bench/bin_lines.h"
#include "bench/pages/bench/bench_form.h"
#include "bench/pages/bench/bench_view.h"
#include "catalog/coil.h"
#include "catalog/reference_class.h"
#include "identify/verdict.h"
#include "quantity/unit_set.h"

namespace coilbook::bench::bench_page {

using app::CoilState;

struct CoilInHand {
    Coil coil;
    CoilState state = CoilState::unmeasured;
    std::vector<Reading> readings;  // the current ones, in the order of taking
    CoilReadings values;            // the same, put together
    Verdict verdict;
    std::optional<std::string> confirmed_as;
    std::string doubt = {};  // why the confirmation looks wrong; mostly empty
};

// What the page is about, as the catalogue and the engine say it now.
struct Situation {
    std::span<const BinLine> bin;  // in the order of their codes
    std::optional<CoilInHand> in_hand;
    ReferenceLibrary library;
    std::vector<LineDistribution> before_learning;  // of each class; may be empty
    Instruments instruments;
    std::optional<Duration> watch;  // how long the stopwatch has run; nothing: it is off
    Question question;              // that the verdict's advice answers
    Units units = grains_and_feet;  // that all numbers are shown in
    // What those instruments show whose last check tells it, by their codes.
    std::map<std::string, std::string, std::less<>> scale_units, micrometer_units;
    std::string failure;
    std::string message;
};

// The coil with that code, or the only one with it but for capitals; null if there is none.
[[nodiscard]] const BinLine* coil_with_code(std::span<const BinLine> bin, std::string_view code);

// The class that a person may want to compare the coil in hand with: the one that is chosen, or
// else the most probable one that is listed; an index into the library. Nothing without a coil.
[[nodiscard]] std::optional<std::size_t> class_to_compare(const Form& form,
                                                          const Situation& situation);

[[nodiscard]] View view_of(const Form& form, const Situation& situation);

// The texts of a coil's readings as its fields show them before anything is typed: as written, but
// without the unit where it is the one beside the field. Fields for several readings are empty.
[[nodiscard]] Typed typed_of(const CoilInHand& coil, const FieldUnits& units);

// The units of bare numbers in the fields. A scale and a micrometer type what they show: where the
// last check of the one in use tells its unit, that counts, else the set that is chosen.
[[nodiscard]] FieldUnits field_units(const Form& form, const Situation& situation);

}  // namespace coilbook::bench::bench_page
