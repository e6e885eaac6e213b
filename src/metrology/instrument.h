// The instruments on the bench, and how far each may be off.
//
// Every reading carries two kinds of error. One is its own and new each time: rounding to the
// instrument's resolution, and repeatability. The other is shared by all readings of the same
// instrument: its calibration, known to a limit of error, and the uncertainty of a found offset.
// The difference matters: ten readings average out the first kind and not the second, and weighing
// the same piece in air and in water with one scale cancels much of the second.
// A resolution counts as a rectangular distribution of that full width, a limit of error as one of
// plus or minus it (GUM, JCGM 100:2008, 4.3.7 and F.2.2.1).
// Leaves out: drift within a session, temperature of the instrument, air buoyancy (0.03 % at most
// for a line of 4 g/cm3, and it cancels in good part).
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "base/result.h"
#include "quantity/temperature.h"
#include "quantity/units.h"

namespace coilbook {

// Figures of one instrument. All are spans of the quantity that it reads, none negative but offset.
template <class Q>
struct Instrument {
    std::string code;
    Q resolution{};          // width of one step of the display
    Q limit_of_error{};      // calibrated within plus or minus this
    Q repeatability{};       // standard deviation of repeated readings of one thing
    Q offset{};              // reads too high by this; subtracted from every reading
    Q offset_uncertainty{};  // standard uncertainty of the offset

    bool operator==(const Instrument&) const = default;
};

struct Scale : Instrument<Mass> {
    bool operator==(const Scale&) const = default;
};
struct Tape : Instrument<Length> {
    bool operator==(const Tape&) const = default;
};
// A coating is soft: the anvil squeezes it by an amount that nobody has published. This further
// standard uncertainty belongs to every diameter taken with a micrometer, shared by all readings
// of one coil, unless it was found on coils of known diameter (calibration.h).
inline constexpr Length soft_coating_uncertainty = 0.010 * millimetre;

struct Micrometer : Instrument<Length> {
    Length coating_uncertainty = soft_coating_uncertainty;

    bool operator==(const Micrometer&) const = default;
};
struct Stopwatch : Instrument<Duration> {
    bool operator==(const Stopwatch&) const = default;
};
struct Thermometer : Instrument<TemperatureDifference> {
    bool operator==(const Thermometer&) const = default;
};

// Standard uncertainty of one reading that the next reading does not share.
template <class Q>
[[nodiscard]] Q own_uncertainty(const Instrument<Q>& instrument);
// Standard uncertainty that all readings of this instrument share.
template <class Q>
[[nodiscard]] Q shared_uncertainty(const Instrument<Q>& instrument);

// The bench's instruments by code. The ones with an empty code are used where none is named.
struct Instruments {
    std::map<std::string, Scale, std::less<>> scales;
    std::map<std::string, Tape, std::less<>> tapes;
    std::map<std::string, Micrometer, std::less<>> micrometers;
    std::map<std::string, Stopwatch, std::less<>> stopwatches;
    std::map<std::string, Thermometer, std::less<>> thermometers;

    bool operator==(const Instruments&) const = default;
};

// One ordinary instrument of each kind: a scale of 0.1 gr, a tape of 1/16 in, a micrometer of
// 0.001 mm, a thumb on a stopwatch, a stream thermometer. The figures are the project's own
// assumptions (an ordinary shop; the micrometer's 0.004 mm is the limit in DIN 863 for 0–25 mm).
[[nodiscard]] Instruments default_instruments();

// Looks an instrument up; an empty code gives the default. A Problem names the known codes.
[[nodiscard]] Result<Scale> scale_of(const Instruments& instruments, std::string_view code);
[[nodiscard]] Result<Tape> tape_of(const Instruments& instruments, std::string_view code);
[[nodiscard]] Result<Micrometer> micrometer_of(const Instruments& instruments,
                                               std::string_view code);

}  // namespace coilbook
