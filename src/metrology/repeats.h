// One thing read again and again with one instrument: the mean, the scatter, and which reading
// looks like a slip.
//
// A slip (a weight that touched the draught shield, a digit misread) is told from scatter by how
// far it lies from the median, measured by the median of such distances, which the slip itself
// hardly moves. Displays have steps, and a few readings may agree by chance: less than three and a
// half steps, or so many of the instrument's own standard deviations, is never called a slip.
// Leaves out: what to do about it. A reading that only looks odd may be the truth about the
// scatter.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "metrology/instrument.h"

namespace coilbook {

template <class Q>
struct Repeats {
    Q mean{};
    std::optional<Q> scatter;  // standard deviation of one reading; nothing with less than two
    std::vector<bool> is_odd;  // one for each reading, in their order
};

// The limit of the modified z-score, 0.6745 · |x − median| / MAD. Source: Iglewicz and Hoaglin
// (1993), as in the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17 (from memory).
inline constexpr double odd_beyond = 3.5;
// Fewer readings cannot tell which of them is the odd one (common practice, no published source).
inline constexpr std::size_t least_to_tell_odd = 4;

// REQUIRES: one reading at least.
template <class Q>
[[nodiscard]] Repeats<Q> repeats_of(const Instrument<Q>& instrument, std::span<const Q> readings);

}  // namespace coilbook
