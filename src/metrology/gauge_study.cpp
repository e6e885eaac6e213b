#include "metrology/gauge_study.h"

#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>
#include <map>

#include "base/text.h"

namespace coilbook {
namespace {

using Cells = std::map<std::pair<std::string, std::string>, std::vector<double>>;

template <class Q>
Q standard_deviation(double variance) {
    return Q::from_si(std::sqrt(std::max(variance, 0.0)));
}

double mean(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double value : values) sum += value;
    return sum / static_cast<double>(values.size());
}

double square(double number) {
    return number * number;
}

// The readings by coil and person, relative to `origin`; a Problem where the study has holes.
template <class Q>
Result<Cells> cells_of(const std::vector<GaugeReading<Q>>& readings, double origin) {
    Cells cells;
    std::map<std::string, int> coils;
    std::map<std::string, int> people;
    for (const auto& each : readings) {
        cells[{each.coil, each.person}].push_back(each.reading.si() - origin);
        coils[each.coil] = people[each.person] = 1;
    }
    const std::string accepted = "each person to read each coil equally often, at least twice";
    for (const auto& [coil, one] : coils) {
        for (const auto& [person, two] : people) {
            const auto cell = cells.find({coil, person});
            if (cell == cells.end()) {
                return problem("reading", person + " did not read coil " + coil, accepted);
            }
            const auto repeats = cells.begin()->second.size();
            if (cell->second.size() != repeats) {
                return problem(
                    "reading",
                    person + " read coil " + coil + " " + std::to_string(cell->second.size()) +
                        " times, while " + cells.begin()->first.second + " read coil " +
                        cells.begin()->first.first + " " + std::to_string(repeats) + " times",
                    accepted);
            }
        }
    }
    if (readings.empty()) return problem("reading", "there are no readings", accepted);
    if (cells.begin()->second.size() < 2) {
        return problem("reading", "nobody read a coil twice", accepted);
    }
    return cells;
}

}  // namespace

template <class Q>
Result<GaugeStudy<Q>> gauge_study(const std::vector<GaugeReading<Q>>& readings) {
    // Relative to the first reading, so that large readings with small differences lose nothing.
    const double origin = readings.empty() ? 0.0 : readings.front().reading.si();
    const auto cells = cells_of(readings, origin);
    if (!cells) return tl::unexpected(cells.error());

    std::map<std::string, std::vector<double>> by_coil;
    std::map<std::string, std::vector<double>> by_person;
    std::vector<double> all;
    for (const auto& [place, values] : *cells) {
        for (const double value : values) {
            by_coil[place.first].push_back(value);
            by_person[place.second].push_back(value);
            all.push_back(value);
        }
    }
    GaugeStudy<Q> study;
    study.coils = static_cast<int>(by_coil.size());
    study.people = static_cast<int>(by_person.size());
    study.repeats = static_cast<int>(cells->begin()->second.size());
    const double p = study.coils;
    const double o = study.people;
    const double n = study.repeats;
    const double grand = mean(all);
    for (const auto& [coil, values] : by_coil) {
        study.between_coils.sum_of_squares += o * n * square(mean(values) - grand);
    }
    for (const auto& [person, values] : by_person) {
        study.between_people.sum_of_squares += p * n * square(mean(values) - grand);
    }
    for (const auto& [place, values] : *cells) {
        const double at = mean(values);
        study.interaction.sum_of_squares +=
            n * square(at - mean(by_coil[place.first]) - mean(by_person[place.second]) + grand);
        for (const double value : values) study.repeating.sum_of_squares += square(value - at);
    }
    study.between_coils.degrees_of_freedom = study.coils - 1;
    study.between_people.degrees_of_freedom = study.people - 1;
    study.interaction.degrees_of_freedom = (study.coils - 1) * (study.people - 1);
    study.repeating.degrees_of_freedom = study.coils * study.people * (study.repeats - 1);

    const double repeating = study.repeating.mean_square();
    double scatter = repeating;
    double against = repeating;  // what people and coils are held against
    double by_coil_variance = 0.0;
    if (study.interaction.degrees_of_freedom > 0) {
        const double interacting = study.interaction.mean_square();
        const boost::math::fisher_f by_chance(study.interaction.degrees_of_freedom,
                                              study.repeating.degrees_of_freedom);
        if (repeating > 0.0) {
            study.interaction_f = interacting / repeating;
            study.interaction_chance =
                boost::math::cdf(boost::math::complement(by_chance, *study.interaction_f));
        }
        study.is_pooled = study.interaction_chance.value_or(0.0) >= interaction_level;
        if (study.is_pooled) {
            scatter = against =
                (study.interaction.sum_of_squares + study.repeating.sum_of_squares) /
                (study.interaction.degrees_of_freedom + study.repeating.degrees_of_freedom);
        } else {
            against = interacting;
            by_coil_variance = std::max(0.0, (interacting - repeating) / n);
        }
    }
    const double people_variance =
        study.people > 1 ? std::max(0.0, (study.between_people.mean_square() - against) / (p * n))
                         : 0.0;
    const double coils_variance =
        study.coils > 1 ? std::max(0.0, (study.between_coils.mean_square() - against) / (o * n))
                        : 0.0;
    const double reproducing = people_variance + by_coil_variance;
    study.repeatability = standard_deviation<Q>(scatter);
    study.people_differ = standard_deviation<Q>(people_variance);
    study.people_by_coil = standard_deviation<Q>(by_coil_variance);
    study.reproducibility = standard_deviation<Q>(reproducing);
    study.gauge = standard_deviation<Q>(scatter + reproducing);
    study.coils_differ = standard_deviation<Q>(coils_variance);
    study.total = standard_deviation<Q>(scatter + reproducing + coils_variance);
    return study;
}

template Result<GaugeStudy<Mass>> gauge_study(const std::vector<GaugeReading<Mass>>&);
template Result<GaugeStudy<Length>> gauge_study(const std::vector<GaugeReading<Length>>&);
template Result<GaugeStudy<Duration>> gauge_study(const std::vector<GaugeReading<Duration>>&);

}  // namespace coilbook
