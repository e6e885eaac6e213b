// What the readings say a coil is: the answer of the identification engine, as plain values.
//
// Measured facts come first (weight per foot, diameter, density, sink rate, each with its standard
// uncertainty and none where the readings do not determine it), names second (probabilities of the
// reference classes and of the trade's facets). "Cannot tell" is an answer: probabilities stay wide
// and flags say why.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/readings.h"
#include "catalog/reference_class.h"
#include "metrology/measured.h"
#include "quantity/units.h"

namespace coilbook {

// What the readings alone imply, without the reference library. An empty fact was not determined.
struct Facts {
    std::optional<Measured<LinearDensity>> linear_density;
    std::optional<Measured<Length>> diameter;
    std::optional<Measured<Density>> density;
    // In still water of the kind asked for; carries the drag law's uncertainty. Negative: it rises.
    std::optional<Measured<Speed>> sink_rate;
    // Weight per foot and density together, where both are determined: they are wrong together.
    std::optional<LineDistribution> line;
};

// The most probable value of one facet, 'none' counting as a value, and its probability.
template <class Value>
struct Facet {
    std::optional<Value> value;
    double probability = 0.0;
};

enum class Flag {
    implausible,   // a fact that no fishing line has
    unit_mixup,    // fits far better if a weight was noted in the wrong one of grains and grams
    inconsistent,  // the readings contradict each other
    ambiguous,     // the best class has less than 0.8
};

[[nodiscard]] std::string_view name_of(Flag flag);  // "unit?" for unit_mixup

// What the person wants to know of a coil.
enum class Answer {
    line,           // which class it is
    grain_class,    // only that
    density_grade,  // only that
    fishes_like,    // only whether it is the same line in the water as one class
};

// How long a reading takes at the bench, setting up and putting away included. Settings: these are
// the project's own guesses.
struct BenchTimes {
    Duration short_sample = 60.0 * second;
    Duration long_sample = 120.0 * second;
    Duration diameters = 40.0 * second;
    Duration submerged = 120.0 * second;
    Duration drop = 180.0 * second;
    Duration floats = 20.0 * second;
    Duration taper = 8.0 * second;
    Duration tint = 5.0 * second;
    Duration whole_length = 60.0 * second;

    bool operator==(const BenchTimes&) const = default;
};

struct Question {
    Answer answer = Answer::line;
    std::optional<std::size_t> like = {};  // for fishes_like: the class, an index into the library
    bool by_time = false;                  // the most telling first, or the most telling per second
    BenchTimes times{};

    bool operator==(const Question&) const = default;
};

// A reading that was not taken yet (or of a longer piece), and what it is expected to tell.
struct ReadingAdvice {
    ReadingField field;
    double bits;              // expected information about the answer, 0 or more
    double chance_of_change;  // that the most probable answer becomes another
    Duration time;            // at the bench
    std::string_view how;     // in words: "measure the diameter in three places"

    [[nodiscard]] double bits_per_minute() const { return bits / (time / (60.0 * second)); }
};

// Which weights may have been noted in the wrong one of grains and grams.
enum class MixedUp { sample, whole, submerged, all_weights };
struct UnitMixup {
    MixedUp which;
    bool noted_as_grains;  // true: noted as grains, was grams
    double probability;    // against all readings being right as noted
    std::size_t best;      // the most probable class as meant, an index into the library
};

struct Verdict {
    Facts facts;
    // One probability for each class of the library, in its order. They sum to 1 within 1e-9.
    std::vector<double> probabilities;
    // Indices into the library, the most probable first.
    std::vector<std::size_t> ranking;
    Facet<GrainClass> grain_class;
    Facet<DensityGrade> density_grade;
    Facet<LineSize> line_size;
    Facet<Family> family;
    double unlisted_probability = 0.0;
    // The readings that could still be taken, or the first of them, as it was asked; the most
    // telling first. Empty: none would tell more.
    std::vector<ReadingAdvice> advice;
    // No single further reading is likely to change the answer; false where only one was asked for.
    bool enough = false;
    std::vector<Flag> flags;
    std::optional<UnitMixup> mixup;  // with Flag::unit_mixup: what would make sense instead
    // Classes that are the same line in the water as the best one, as indices into the library.
    std::vector<std::size_t> fishes_like;
    // Why, in sentences for a tired person, the most important first.
    std::vector<std::string> because;

    [[nodiscard]] std::size_t best() const { return ranking.front(); }
    [[nodiscard]] bool has(Flag flag) const;
};

}  // namespace coilbook
