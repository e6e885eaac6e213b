#include "metrology/instrument.h"

#include <cmath>

#include "base/text.h"
#include "metrology/measured.h"

namespace coilbook {
namespace {

template <class Kind>
Result<Kind> find(const std::map<std::string, Kind, std::less<>>& instruments,
                  std::string_view code, const char* kind) {
    if (const auto found = instruments.find(code); found != instruments.end()) {
        return found->second;
    }
    std::string known;
    for (const auto& [name, instrument] : instruments) {
        if (!name.empty()) known += (known.empty() ? "" : ", ") + name;
    }
    return problem(kind, quoted(code) + " is not a known " + kind,
                   known.empty() ? "an empty cell: only the default is known" : "one of " + known);
}

}  // namespace

template <class Q>
Q own_uncertainty(const Instrument<Q>& instrument) {
    const auto rounding = Q::from_si(instrument.resolution.si() / std::sqrt(12.0));
    return root_sum_square(rounding, instrument.repeatability);
}

template <class Q>
Q shared_uncertainty(const Instrument<Q>& instrument) {
    const auto calibration = Q::from_si(instrument.limit_of_error.si() / std::sqrt(3.0));
    return root_sum_square(calibration, instrument.offset_uncertainty);
}

template Mass own_uncertainty(const Instrument<Mass>&);
template Length own_uncertainty(const Instrument<Length>&);
template Duration own_uncertainty(const Instrument<Duration>&);
template TemperatureDifference own_uncertainty(const Instrument<TemperatureDifference>&);
template Mass shared_uncertainty(const Instrument<Mass>&);
template Length shared_uncertainty(const Instrument<Length>&);
template Duration shared_uncertainty(const Instrument<Duration>&);
template TemperatureDifference shared_uncertainty(const Instrument<TemperatureDifference>&);

Instruments default_instruments() {
    Scale scale;
    scale.resolution = 0.1 * grain;
    scale.limit_of_error = 0.1 * grain;
    Tape tape;
    tape.resolution = inch / 16.0;
    tape.limit_of_error = inch / 32.0;
    Micrometer micrometer;
    micrometer.resolution = 0.001 * millimetre;
    micrometer.limit_of_error = 0.004 * millimetre;
    Stopwatch stopwatch;
    stopwatch.repeatability = 0.2 * second;
    Thermometer thermometer;
    thermometer.offset_uncertainty = TemperatureDifference::from_kelvin(0.5);
    return {
        {{"", scale}}, {{"", tape}}, {{"", micrometer}}, {{"", stopwatch}}, {{"", thermometer}}};
}

Result<Scale> scale_of(const Instruments& instruments, std::string_view code) {
    return find(instruments.scales, code, "scale");
}
Result<Tape> tape_of(const Instruments& instruments, std::string_view code) {
    return find(instruments.tapes, code, "tape");
}
Result<Micrometer> micrometer_of(const Instruments& instruments, std::string_view code) {
    return find(instruments.micrometers, code, "micrometer");
}

}  // namespace coilbook
