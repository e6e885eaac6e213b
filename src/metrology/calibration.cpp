#include "metrology/calibration.h"

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cassert>
#include <cmath>
#include <limits>

namespace coilbook {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

double square(double number) {
    return number * number;
}

double chance_beyond(double chi_square, int degrees_of_freedom) {
    if (degrees_of_freedom < 1) return 1.0;
    const boost::math::chi_squared by_chance(degrees_of_freedom);
    return boost::math::cdf(boost::math::complement(by_chance, chi_square));
}

// Half the width of the central 95 % in standard uncertainties.
double student_95(double degrees_of_freedom) {
    // Beyond a million the quantile is the normal one to six figures.
    const boost::math::students_t student(std::min(degrees_of_freedom, 1e6));
    return boost::math::quantile(student, 0.975);
}

// One standard, in SI: where it is, how far readings of it are off on average, and how surely.
struct Deviation {
    double at;
    double value;
    double from_scatter;  // standard uncertainty by repeated reading
    double otherwise;     // of the standard and the rounding
    [[nodiscard]] double weight() const { return 1.0 / (square(from_scatter) + square(otherwise)); }
};

// Deviations and the pooled scatter behind them.
struct Deviations {
    std::vector<Deviation> each;
    double scatter = 0.0;  // standard deviation of one reading
    int scatter_freedom = 0;
    int readings = 0;
};

template <class Q>
Deviations deviations_of(const Instrument<Q>& instrument,
                         std::span<const StandardCheck<Q>> checks) {
    Deviations all;
    double squares = 0.0;
    for (const auto& check : checks) {
        assert(!check.readings.empty() && "a standard in a check was read");
        const double n = static_cast<double>(check.readings.size());
        double sum = 0.0;
        for (const auto& reading : check.readings) sum += reading.si() - check.stated.si();
        for (const auto& reading : check.readings) {
            squares += square(reading.si() - check.stated.si() - sum / n);
        }
        all.readings += static_cast<int>(check.readings.size());
        all.scatter_freedom += static_cast<int>(check.readings.size()) - 1;
        const double rounding = instrument.resolution.si() / std::sqrt(12.0);
        all.each.push_back(
            {check.stated.si(), sum / n, 0.0, std::hypot(check.stated_uncertainty.si(), rounding)});
    }
    all.scatter = all.scatter_freedom > 0 ? std::sqrt(squares / all.scatter_freedom)
                                          : instrument.repeatability.si();
    for (std::size_t i = 0; i < checks.size(); ++i) {
        all.each[i].from_scatter =
            all.scatter / std::sqrt(static_cast<double>(checks[i].readings.size()));
    }
    return all;
}

// Weighted straight line through the deviations; nothing where all standards are of one size.
template <class Q>
std::optional<Stretch<Q>> stretch_of(const std::vector<Deviation>& deviations) {
    double weights = 0.0;
    double at = 0.0;
    double value = 0.0;
    double largest = 0.0;
    for (const auto& each : deviations) {
        weights += each.weight();
        at += each.weight() * each.at;
        value += each.weight() * each.value;
        largest = std::max(largest, std::abs(each.at));
    }
    at /= weights;
    value /= weights;
    double squares = 0.0;
    double products = 0.0;
    for (const auto& each : deviations) {
        squares += each.weight() * square(each.at - at);
        products += each.weight() * (each.at - at) * (each.value - value);
    }
    if (!(squares > 1e-12 * weights * square(largest))) return std::nullopt;
    const double part = products / squares;
    return Stretch<Q>{part, 1.0 / std::sqrt(squares), Q::from_si(value - part * at),
                      Q::from_si(std::sqrt(1.0 / weights + square(at) / squares))};
}

}  // namespace

double effective_degrees_of_freedom(std::span<const UncertaintyPart> parts) {
    double variance = 0.0;
    double sum = 0.0;
    for (const auto& part : parts) {
        variance += square(part.uncertainty);
        sum += square(square(part.uncertainty)) / part.degrees_of_freedom;
    }
    return sum > 0.0 ? square(variance) / sum : infinite;
}

template <class Q>
Calibration<Q> calibrate(const Instrument<Q>& instrument,
                         std::span<const StandardCheck<Q>> checks) {
    assert(!checks.empty() && "a check has a standard");
    const auto deviations = deviations_of(instrument, checks);
    Calibration<Q> found;
    found.readings = deviations.readings;
    found.standards = static_cast<int>(checks.size());
    double weights = 0.0;
    double offset = 0.0;
    for (const auto& each : deviations.each) {
        weights += each.weight();
        offset += each.weight() * each.value;
    }
    offset /= weights;
    for (const auto& each : deviations.each) {
        found.chi_square += each.weight() * square(each.value - offset);
    }
    found.chance = chance_beyond(found.chi_square, found.standards - 1);
    double uncertainty = 1.0 / std::sqrt(weights);
    if (!found.one_offset_fits()) {
        uncertainty *= std::sqrt(found.chi_square / (found.standards - 1));
    }

    // The scatter's part of the mean's variance, which alone has finite degrees of freedom.
    double from_scatter = 0.0;
    for (const auto& each : deviations.each) {
        from_scatter += square(each.weight() / weights * each.from_scatter);
    }
    const double otherwise = std::max(0.0, 1.0 / weights - from_scatter);
    const double freedom = deviations.scatter_freedom > 0 ? deviations.scatter_freedom : infinite;
    const std::array parts{UncertaintyPart{std::sqrt(from_scatter), freedom},
                           UncertaintyPart{std::sqrt(otherwise), infinite}};
    found.degrees_of_freedom = effective_degrees_of_freedom(parts);
    found.offset = Q::from_si(offset);
    found.offset_uncertainty = Q::from_si(uncertainty);
    found.offset_95 = Q::from_si(uncertainty * student_95(found.degrees_of_freedom));
    if (deviations.scatter_freedom > 0) {
        found.repeatability = Q::from_si(deviations.scatter);
        // s/√(2 ν), the normal approximation (GUM E.4.3).
        found.repeatability_uncertainty =
            Q::from_si(deviations.scatter / std::sqrt(2.0 * deviations.scatter_freedom));
    }
    if (found.standards > 1) found.stretch = stretch_of<Q>(deviations.each);
    for (const auto& each : deviations.each) {
        found.deviations.push_back({Q::from_si(each.at), Q::from_si(each.value),
                                    Q::from_si(1.0 / std::sqrt(each.weight()))});
    }
    return found;
}

template <class Kind, class Q>
Kind checked(Kind instrument, const Calibration<Q>& found) {
    instrument.offset = found.offset;
    instrument.offset_uncertainty = found.offset_uncertainty;
    if (found.repeatability && found.readings - found.standards >= 3) {
        instrument.repeatability = *found.repeatability;
    }
    if (found.standards > 1 && found.one_offset_fits()) instrument.limit_of_error = Q{};
    return instrument;
}

bool has_run_out(Instant checked, Instant now, std::chrono::days interval) {
    return now - checked > interval;
}

CoatingOffset coating_offset(std::span<const CoatingCheck> coils) {
    assert(coils.size() > 1 && "one coil says nothing about how coils differ");
    const auto weighted = [&](double tau_squared) {
        struct Mean {
            double weights = 0.0, value = 0.0, chi_square = 0.0;
        } mean;
        const auto weight = [&](const CoatingCheck& coil) {
            return 1.0 / (tau_squared + square(coil.truly.uncertainty.si()) +
                          square(coil.shown.uncertainty.si()));
        };
        const auto off = [](const CoatingCheck& coil) {
            return (coil.shown.value - coil.truly.value).si();
        };
        for (const auto& coil : coils) {
            mean.weights += weight(coil);
            mean.value += weight(coil) * off(coil);
        }
        mean.value /= mean.weights;
        for (const auto& coil : coils) {
            mean.chi_square += weight(coil) * square(off(coil) - mean.value);
        }
        return mean;
    };
    const double expected = static_cast<double>(coils.size()) - 1.0;
    // The chi-square falls as τ² grows; bisect between none and more than the coils' whole range.
    double tau_squared = 0.0;
    if (weighted(0.0).chi_square > expected) {
        double low = 0.0;
        double high = square((1.0 * millimetre).si());
        for (int i = 0; i < 100; ++i) {
            const double middle = 0.5 * (low + high);
            (weighted(middle).chi_square > expected ? low : high) = middle;
        }
        tau_squared = 0.5 * (low + high);
    }
    const double spread = (expected * tau_squared +
                           coils_behind_default_spread * square(soft_coating_uncertainty.si())) /
                          (expected + coils_behind_default_spread);
    const auto mean = weighted(spread);
    return {Length::from_si(mean.value), Length::from_si(1.0 / std::sqrt(mean.weights)),
            Length::from_si(std::sqrt(spread)), static_cast<int>(coils.size())};
}

Micrometer on_coatings(Micrometer micrometer, const CoatingOffset& found) {
    micrometer.offset = found.offset;
    micrometer.offset_uncertainty = found.offset_uncertainty;
    micrometer.limit_of_error = {};
    micrometer.coating_uncertainty = found.spread;
    return micrometer;
}

template Calibration<Mass> calibrate(const Instrument<Mass>&, std::span<const StandardCheck<Mass>>);
template Calibration<Length> calibrate(const Instrument<Length>&,
                                       std::span<const StandardCheck<Length>>);
template Calibration<Duration> calibrate(const Instrument<Duration>&,
                                         std::span<const StandardCheck<Duration>>);
template Calibration<TemperatureDifference> calibrate(
    const Instrument<TemperatureDifference>&,
    std::span<const StandardCheck<TemperatureDifference>>);
template Scale checked(Scale, const Calibration<Mass>&);
template Tape checked(Tape, const Calibration<Length>&);
template Micrometer checked(Micrometer, const Calibration<Length>&);
template Stopwatch checked(Stopwatch, const Calibration<Duration>&);
template Thermometer checked(Thermometer, const Calibration<TemperatureDifference>&);

}  // namespace coilbook
