#include "identify/fact_budget.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <map>

#include "identify/error_budget.h"
#include "identify/evidence.h"
#include "identify/facts.h"

namespace coilbook {
namespace {

constexpr std::size_t fact_count = 4;
using FactValues = std::array<double, fact_count>;
constexpr double undetermined = std::numeric_limits<double>::quiet_NaN();

// ln of the first three; the sink rate itself, which may be zero, in m/s.
FactValues values_of(const Facts& facts) {
    FactValues values{undetermined, undetermined, undetermined, undetermined};
    if (facts.linear_density) values[0] = std::log(facts.linear_density->value.si());
    if (facts.diameter) values[1] = std::log(facts.diameter->value.si());
    if (facts.density) values[2] = std::log(facts.density->value.si());
    if (facts.sink_rate) values[3] = facts.sink_rate->value.si();
    return values;
}
FactValues deviations_of(const Facts& facts) {
    FactValues sd{undetermined, undetermined, undetermined, undetermined};
    if (facts.linear_density) sd[0] = facts.linear_density->relative();
    if (facts.diameter) sd[1] = facts.diameter->relative();
    if (facts.density) sd[2] = facts.density->relative();
    if (facts.sink_rate) sd[3] = facts.sink_rate->uncertainty.si();
    return sd;
}

// How the facts change when readings are made larger by parts of themselves: the slope at none.
class Slopes {
  public:
    Slopes(const CoilReadings& readings, const Instruments& instruments, const Water& fished_in)
        : readings_(readings), instruments_(instruments), fished_in_(fished_in) {}

    // `stretch` makes every reading that moves larger by that factor.
    [[nodiscard]] FactValues in(
        const std::function<void(CoilReadings&, double factor)>& stretch) const {
        constexpr double step = 1e-4;
        const auto high = facts_when(stretch, 1.0 + step);
        const auto low = facts_when(stretch, 1.0 - step);
        FactValues slopes{};
        for (std::size_t k = 0; k < fact_count; ++k) {
            const double slope = (high[k] - low[k]) / (2.0 * step);
            slopes[k] = std::isfinite(slope) ? slope : 0.0;
        }
        return slopes;
    }

  private:
    [[nodiscard]] FactValues facts_when(const std::function<void(CoilReadings&, double)>& stretch,
                                        double factor) const {
        auto moved = readings_;
        stretch(moved, factor);
        const auto evidence = evidence_of(moved, instruments_);
        return values_of(evidence ? fit_facts(*evidence, fished_in_).facts : Facts{});
    }

    const CoilReadings& readings_;
    const Instruments& instruments_;
    const Water& fished_in_;
};

template <class Q>
void stretch_one(std::optional<Stated<Q>>& stated, double factor) {
    if (stated) stated->value = factor * stated->value;
}

struct StraightReading {
    Read which;
    ReadingField field;
    void (*stretch)(CoilReadings&, double factor);
    bool (*is_stated)(const CoilReadings&);
};
constexpr std::array<StraightReading, read_count> straight_readings_of_a_coil{{
    {Read::in_air, ReadingField::sample_weight,
     [](CoilReadings& of, double by) { stretch_one(of.sample_weight, by); },
     [](const CoilReadings& of) {
         return of.sample_weight && of.sample_weight->uncertainty.has_value();
     }},
    {Read::in_water, ReadingField::submerged_weight,
     [](CoilReadings& of, double by) { stretch_one(of.submerged_weight, by); },
     [](const CoilReadings& of) {
         return of.submerged_weight && of.submerged_weight->uncertainty.has_value();
     }},
    {Read::whole_weight, ReadingField::whole_weight,
     [](CoilReadings& of, double by) { stretch_one(of.whole_weight, by); },
     [](const CoilReadings& of) {
         return of.whole_weight && of.whole_weight->uncertainty.has_value();
     }},
    {Read::sample_length, ReadingField::sample_length,
     [](CoilReadings& of, double by) { stretch_one(of.sample_length, by); },
     [](const CoilReadings& of) {
         return of.sample_length && of.sample_length->uncertainty.has_value();
     }},
    {Read::whole_length, ReadingField::whole_length,
     [](CoilReadings& of, double by) { stretch_one(of.whole_length, by); },
     [](const CoilReadings& of) {
         return of.whole_length && of.whole_length->uncertainty.has_value();
     }},
    {Read::diameter, ReadingField::diameters,
     [](CoilReadings& of, double by) {
         for (auto& each : of.diameters) each.value = by * each.value;
     },
     [](const CoilReadings& of) {
         return std::ranges::any_of(of.diameters,
                                    [](const auto& d) { return d.uncertainty.has_value(); });
     }},
}};

bool moves(const ErrorSource& source, Read which) {
    return source.moves(static_cast<Eigen::Index>(which)) != 0.0;
}

ErrorOrigin origin_of(const ErrorSource& source, const CoilReadings& readings) {
    bool is_stated = true;
    for (const auto& each : straight_readings_of_a_coil) {
        if (moves(source, each.which) && !each.is_stated(readings)) is_stated = false;
    }
    if (is_stated) return ErrorOrigin::own_word;
    if (moves(source, Read::diameter)) return ErrorOrigin::micrometer;
    if (moves(source, Read::sample_length) || moves(source, Read::whole_length)) {
        return ErrorOrigin::tape;
    }
    return ErrorOrigin::scale;
}

// What each origin does to the variance of each fact.
class Ledger {
  public:
    // An error whose effect on each fact, as a standard deviation, is this.
    void enter(ErrorOrigin origin, const FactValues& effect, double part = 1.0) {
        for (std::size_t k = 0; k < fact_count; ++k) {
            variances_[k][origin] += part * effect[k] * effect[k];
        }
    }
    // The parts of fact `k`, whose standard deviation is `sd` where the readings agree.
    [[nodiscard]] std::vector<BudgetPart> parts(std::size_t k, double sd) const {
        if (!std::isfinite(sd)) return {};
        auto variances = variances_[k];
        double sum = 0.0;
        for (const auto& [origin, variance] : variances) sum += variance;
        // A hundredth may be lost to differences in place of derivatives.
        const double rest = sd * sd - sum;
        if (rest > 0.01 * sd * sd) {
            variances[ErrorOrigin::drag_law] += rest;
            sum += rest;
        }
        std::vector<BudgetPart> parts;
        for (const auto& [origin, variance] : variances) {
            if (variance >= 0.001 * sum && sum > 0.0) parts.push_back({origin, variance / sum});
        }
        std::ranges::sort(parts, std::ranges::greater{}, &BudgetPart::share);
        return parts;
    }

  private:
    std::array<std::map<ErrorOrigin, double>, fact_count> variances_;
};

// How much of the shared error of a micrometer on a coating is the coating's.
double coating_part(const Micrometer& micrometer) {
    const double coating = std::pow(micrometer.coating_uncertainty.si(), 2);
    const double all = coating + std::pow(shared_uncertainty(micrometer).si(), 2);
    return all > 0.0 ? coating / all : 0.0;
}

void scaled(FactValues& values, double factor) {
    for (double& value : values) value *= factor;
}

}  // namespace

Result<FactBudgets> budgets_of(const CoilReadings& readings, const Instruments& instruments,
                               const Water& fished_in) {
    const auto evidence = evidence_of(readings, instruments);
    if (!evidence) return tl::unexpected(evidence.error());
    const auto fit = fit_facts(*evidence, fished_in);
    auto sd = deviations_of(fit.facts);
    if (fit.contradictory) scaled(sd, std::sqrt(fit.surplus / fit.chi_square));

    // Known since there is evidence.
    const auto scale = scale_of(instruments, readings.scale).value();
    const auto tape = tape_of(instruments, readings.tape).value();
    const auto micrometer = micrometer_of(instruments, readings.micrometer).value();
    const auto straight = straight_readings(readings, scale, tape, micrometer, evidence->water);
    const Slopes slopes(readings, instruments, fished_in);

    std::array<FactValues, read_count> slope{};  // in ln of each straight reading
    std::vector<std::pair<ReadingField, FactValues>> moving;
    for (const auto& each : straight_readings_of_a_coil) {
        if (straight.read(static_cast<Eigen::Index>(each.which)) == 0.0) continue;
        const auto found = slopes.in(each.stretch);
        slope[static_cast<std::size_t>(each.which)] = found;
        moving.emplace_back(each.field, found);
    }

    Ledger ledger;
    for (const auto& source : straight.sources) {
        FactValues effect{};
        for (std::size_t at = 0; at < read_count; ++at) {
            const double read = straight.read(static_cast<Eigen::Index>(at));
            const double moved = source.moves(static_cast<Eigen::Index>(at));
            if (moved == 0.0 || read == 0.0) continue;
            for (std::size_t k = 0; k < fact_count; ++k) effect[k] += slope[at][k] * moved / read;
        }
        scaled(effect, std::hypot(source.bell, source.rectangle_sd()));
        const auto origin = origin_of(source, readings);
        // The last source is what all diameters share.
        const bool is_shared =
            origin == ErrorOrigin::micrometer && &source == &straight.sources.back();
        const double coating = is_shared ? coating_part(micrometer) : 0.0;
        ledger.enter(ErrorOrigin::soft_coating, effect, coating);
        ledger.enter(origin, effect, 1.0 - coating);
    }
    if (straight.taper_sd > 0.0) {
        // A piece that is heavier by so much, in air as in water.
        auto effect = slopes.in([](CoilReadings& of, double by) {
            stretch_one(of.sample_weight, by);
            stretch_one(of.submerged_weight, by);
        });
        scaled(effect, straight.taper_sd);
        ledger.enter(ErrorOrigin::taper, effect);
    }
    if (evidence->drop) {
        // What the time tells is the rate: everything else of a drop goes the same way.
        const auto in_time =
            slopes.in([](CoilReadings& of, double by) { stretch_one(of.sink_time, by); });
        for (const auto field : {ReadingField::sink_distance, ReadingField::sink_time}) {
            moving.emplace_back(field, in_time);
        }
        const double tape_variance = relative_variance<Length>(*readings.sink_distance, tape);
        const double other_variance =
            std::max(0.0, std::pow(evidence->drop->level_sd, 2) - tape_variance);
        const auto enter = [&](ErrorOrigin origin, double deviation) {
            auto effect = in_time;
            scaled(effect, deviation);
            ledger.enter(origin, effect);
        };
        enter(readings.sink_time->uncertainty ? ErrorOrigin::own_word : ErrorOrigin::stopwatch,
              evidence->drop->time_sd);
        enter(readings.sink_distance->uncertainty ? ErrorOrigin::own_word : ErrorOrigin::tape,
              std::sqrt(tape_variance));
        enter(ErrorOrigin::thermometer, std::sqrt(other_variance));
        if (readings.water_temperature)
            moving.emplace_back(ReadingField::water_temperature, in_time);
    }

    const auto values = values_of(fit.facts);
    const auto budget = [&](std::size_t k) {
        FactBudget made{ledger.parts(k, sd[k]), {}};
        if (!std::isfinite(values[k])) return made;
        const double least = k == 3 ? 1e-3 * std::max(std::abs(values[k]), 1e-3) : 1e-3;
        for (const auto field : all_reading_fields) {
            const bool counts = std::ranges::any_of(moving, [&](const auto& each) {
                return each.first == field && std::abs(each.second[k]) > least;
            });
            if (counts) made.rests_on.push_back(field);
        }
        return made;
    };
    return FactBudgets{budget(0), budget(1), budget(2), budget(3)};
}

}  // namespace coilbook
