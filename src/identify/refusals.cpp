#include "identify/refusals.h"

#include <fmt/format.h>

#include "identify/error_budget.h"
#include "identify/evidence.h"
#include "quantity/print.h"

namespace coilbook {
namespace {

// Above this a logarithm is no longer straight enough for first-order uncertainties.
constexpr double most_relative_uncertainty = 0.5;

// Refuses a reading that nothing sensible is left of.
template <class Q>
std::optional<Problem> refusal(const std::optional<Stated<Q>>& stated,
                               const Instrument<Q>& instrument, const char* field) {
    if (!stated) return std::nullopt;
    if (less_offset<Q>(*stated, instrument) <= Q{}) {
        return Problem{field, "it is not above its instrument's offset",
                       "a reading above the offset that the instrument is known to have"};
    }
    if (relative_variance<Q>(*stated, instrument) >
        most_relative_uncertainty * most_relative_uncertainty) {
        return Problem{field, "its uncertainty is more than half of it",
                       "a larger piece, a finer instrument or a smaller stated uncertainty"};
    }
    return std::nullopt;
}

// "0.001 to 10000 gr/ft".
template <class Q>
std::string from_to(Q low, Q high, const NamedUnit<Q>& unit) {
    return fmt::format("{:.2g} to {:.5g} {}", low / unit.size, high / unit.size, unit.name);
}

std::optional<Problem> refusal_of_piece(const std::optional<WeighedPiece>& piece, const char* field,
                                        const Units& units) {
    if (!piece) return std::nullopt;
    const LinearDensity line = piece->weight.value / piece->length.value;
    if (line >= lightest_conceivable_line && line <= heaviest_conceivable_line) return std::nullopt;
    return Problem{
        field, "weight and length together are no line's",
        from_to(lightest_conceivable_line, heaviest_conceivable_line, units.weight_per_length)};
}

}  // namespace

Result<BenchInstruments> bench_instruments(const CoilReadings& readings,
                                           const Instruments& instruments) {
    const auto scale = instruments.scales.find(readings.scale);
    if (scale == instruments.scales.end()) {
        return tl::unexpected(scale_of(instruments, readings.scale).error());
    }
    const auto tape = instruments.tapes.find(readings.tape);
    if (tape == instruments.tapes.end()) {
        return tl::unexpected(tape_of(instruments, readings.tape).error());
    }
    const auto micrometer = instruments.micrometers.find(readings.micrometer);
    if (micrometer == instruments.micrometers.end()) {
        return tl::unexpected(micrometer_of(instruments, readings.micrometer).error());
    }
    return BenchInstruments{scale->second, tape->second, micrometer->second,
                            instruments.stopwatches.at(""), instruments.thermometers.at("")};
}

std::optional<Problem> first_refusal(const CoilReadings& readings,
                                     const BenchInstruments& instruments, const Units& units) {
    std::optional<Problem> found;
    const auto look = [&](const std::optional<Problem>& refused) {
        if (!found) found = refused;
    };
    look(refusal<Mass>(readings.sample_weight, instruments.scale, "sample_weight"));
    look(refusal<Length>(readings.sample_length, instruments.tape, "sample_length"));
    look(refusal<Mass>(readings.whole_weight, instruments.scale, "whole_weight"));
    look(refusal<Length>(readings.whole_length, instruments.tape, "whole_length"));
    look(refusal<Length>(readings.sink_distance, instruments.tape, "sink_distance"));
    look(refusal<Duration>(readings.sink_time, instruments.stopwatch, "sink_time"));
    for (const auto& diameter : readings.diameters) {
        look(refusal<Length>(diameter, instruments.micrometer, "diameters"));
    }
    look(refusal_of_piece(weighed_sample(readings), "sample_weight", units));
    look(refusal_of_piece(weighed_whole(readings), "whole_weight", units));
    if (readings.submerged_weight && readings.sample_weight &&
        readings.submerged_weight->value > 2.0 * readings.sample_weight->value) {
        look(Problem{"submerged_weight", "it is far above the weight in air",
                     "less than sample_weight"});
    }
    if (readings.sink_distance && readings.sink_time) {
        const Speed rate = readings.sink_distance->value / readings.sink_time->value;
        if (rate < slowest_conceivable_drop || rate > fastest_conceivable_drop) {
            look(Problem{
                "sink_time", "distance and time together are no line's sink rate",
                from_to(slowest_conceivable_drop, fastest_conceivable_drop, units.sink_rate)});
        }
    }
    if (readings.water_temperature && readings.water_temperature->uncertainty &&
        readings.water_temperature->uncertainty->kelvin() > 20.0) {
        look(Problem{"water_temperature", "its stated uncertainty is too large to mean anything",
                     "at most 20 C"});
    }
    return found;
}

}  // namespace coilbook
