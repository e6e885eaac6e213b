#include "metrology/repeats.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace coilbook {
namespace {

double median(std::vector<double> values) {
    std::ranges::sort(values);
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

}  // namespace

template <class Q>
Repeats<Q> repeats_of(const Instrument<Q>& instrument, std::span<const Q> readings) {
    assert(!readings.empty() && "a mean is of something");
    const double first = readings.front().si();  // so that large readings lose no figures
    const double n = static_cast<double>(readings.size());
    std::vector<double> values;
    double sum = 0.0;
    for (const auto& reading : readings) {
        values.push_back(reading.si() - first);
        sum += values.back();
    }
    Repeats<Q> found;
    found.mean = Q::from_si(first + sum / n);
    if (readings.size() > 1) {
        double squares = 0.0;
        for (const double value : values) squares += (value - sum / n) * (value - sum / n);
        found.scatter = Q::from_si(std::sqrt(squares / (n - 1.0)));
    }
    const double middle = median(values);
    std::vector<double> distances;
    for (const double value : values) distances.push_back(std::abs(value - middle));
    // MAD / 0.6745 is the standard deviation of a normal distribution.
    const double deviation = std::max(
        {median(distances) / 0.6745, instrument.resolution.si(), instrument.repeatability.si()});
    const bool can_tell = readings.size() >= least_to_tell_odd;
    for (const double distance : distances) {
        found.is_odd.push_back(can_tell && distance > odd_beyond * deviation);
    }
    return found;
}

template Repeats<Mass> repeats_of(const Instrument<Mass>&, std::span<const Mass>);
template Repeats<Length> repeats_of(const Instrument<Length>&, std::span<const Length>);
template Repeats<Duration> repeats_of(const Instrument<Duration>&, std::span<const Duration>);
template Repeats<TemperatureDifference> repeats_of(const Instrument<TemperatureDifference>&,
                                                   std::span<const TemperatureDifference>);

}  // namespace coilbook
