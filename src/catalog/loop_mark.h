// The loop mark: pen bands near a tip's loop that say how fast it sinks and how heavy it is, so
// that it can be told in the hand without label, glasses or light to speak of. A scheme of our own.
//
// Any waterproof pen that shows: dark on pale line, white or silver on dark. The colour says
// nothing, the bands do. A narrow band (2 mm) counts one, a wide band (6 mm, three times as wide)
// counts three. Two groups, read from the loop outwards:
//
//     loop ▮▮ | ||      first group: the density grade, type n has n: 3 + 3 = type 6
//                       after a long gap (10 mm) the second group, the weight per foot:
//                       0 below 6.5 gr/ft, then one more for every 3 grains a foot: 1 is 8 (6.5 to
//                       9.5), 2 is 11, 3 is 14, 4 is 17, 5 is 20 gr/ft
//
// Nought is one spot that does not go round the line: intermediate, or light. Two spots in the
// first group: it floats. So every group has something to see, and nobody counts beyond three of a
// kind. It is a name and a step, no measurement: the label and the catalogue have the figures. It
// is no counting in fives, as some mark the sizes of whole lines: here wide is three. Leaves out:
// the line's size and length.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/facets.h"
#include "quantity/units.h"

namespace coilbook {

struct LoopMark {
    DensityGrade grade;
    int weight_step;  // 0 … 7

    bool operator==(const LoopMark&) const = default;
};

enum class PenBand { narrow, wide, spot };

// A band with its place on the line: `start` from the end of the loop's knot or weld.
struct PlacedBand {
    PenBand band;
    Length start;
    Length width;

    bool operator==(const PlacedBand&) const = default;
};

inline constexpr Length narrow_band = Length::from_si(0.002);  // a pen's broad side
inline constexpr Length wide_band = Length::from_si(0.006);
inline constexpr Length band_gap = Length::from_si(0.002);
inline constexpr Length group_gap = Length::from_si(0.010);

// 1 for 8 gr/ft, 2 for 11, and so on to 7 for 26 and above; 0 below 6.5.
// REQUIRES: weight per length above zero.
[[nodiscard]] int weight_step(LinearDensity weight);
// In words: "6.5 to 9.5 gr/ft".
[[nodiscard]] std::string weight_range(int step);

// Nothing where grade or weight is not known: half a mark would mislead.
[[nodiscard]] std::optional<LoopMark> loop_mark(const std::optional<DensityGrade>& grade,
                                                const std::optional<LinearDensity>& weight);

// The bands of a mark, from the loop outwards.
[[nodiscard]] std::vector<PlacedBand> bands_of(const LoopMark& mark);
// From the first band's start to the last one's end.
[[nodiscard]] Length length_of(const std::vector<PlacedBand>& bands);

// What the bands say, as a person reads them: by kind and by gaps. Nothing where they are no mark.
[[nodiscard]] std::optional<LoopMark> read_mark(const std::vector<PlacedBand>& bands);

// "wide wide, gap, narrow": the mark in words, for who cannot see the drawing.
[[nodiscard]] std::string in_words(const LoopMark& mark);

}  // namespace coilbook
