#include "identify/next_reading.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "identify/error_budget.h"
#include "identify/tidings.h"

namespace coilbook {
namespace {

constexpr double least_share = 1e-3;  // classes below this do not matter for the question

double square(double number) {
    return number * number;
}

// The classes that still count, with their probabilities brought back to a sum of 1.
struct Contender {
    std::size_t index;
    double share;
    std::size_t answer;
    Gaussian2 line;
};

// Everything that the questions below need.
struct Bench {
    const CoilReadings& readings;
    const Evidence& evidence;
    const Scale& scale;
    const Tape& tape;
    const Micrometer& micrometer;
    const Stopwatch& stopwatch;
    const PreparedLibrary& library;
    Few<Contender> contenders;

    // A reading that is straight in θ near each class: value, slope and own variance at a point.
    struct Local {
        double value;
        Eigen::RowVector2d slope;
        double variance;
    };
    [[nodiscard]] Few<NormalOutcome> ask(const auto& reading) const {
        Few<NormalOutcome> outcomes;
        for (const auto& each : contenders) {
            const Local local = reading(each.line.mean);
            const double spread =
                (local.slope * each.line.covariance * local.slope.transpose()).value();
            outcomes.push_back(
                {each.share, local.value, std::sqrt(spread + local.variance), each.answer});
        }
        return outcomes;
    }

    // A reading with few results, `table_of` a contender.
    [[nodiscard]] Few<TabledOutcome> ask_table(const auto& table_of) const {
        Few<TabledOutcome> outcomes;
        for (const auto& each : contenders) {
            const ResultTable& table = table_of(each);
            outcomes.push_back({each.share, table.results, each.answer, table.entropy});
        }
        return outcomes;
    }
};

Few<NormalOutcome> sample_outcomes(const Bench& bench, Length length) {
    return bench.ask([&](const LinePoint& point) -> Bench::Local {
        const Mass weight = line_at(point).weight_per_length * length;
        return {point.x(),
                {1.0, 0.0},
                relative_variance<Mass>(weight, bench.scale) +
                    relative_variance<Length>(length, bench.tape)};
    });
}

Few<NormalOutcome> diameter_outcomes(const Bench& bench) {
    const auto& micrometer = bench.micrometer;
    return bench.ask([&](const LinePoint& point) -> Bench::Local {
        const Length d = line_at(point).diameter;
        const double variance = square(own_uncertainty(micrometer) / d) / next_diameters +
                                square(shared_uncertainty(micrometer) / d) +
                                square(micrometer.coating_uncertainty / d);
        return {ln_diameter_row().dot(point), ln_diameter_row(), variance};
    });
}

// ln of the displaced weight over the sample's length; the scale's shared error cancels in it.
Few<NormalOutcome> submerged_outcomes(const Bench& bench) {
    const Mass in_air = bench.readings.sample_weight->value;
    const double water = bench.evidence.water.density.in(gram_per_cubic_centimetre);
    return bench.ask([&](const LinePoint& point) -> Bench::Local {
        const Mass displaced = in_air * (water * std::exp(-point.y()));
        const double variance = 2.0 * square(own_uncertainty(bench.scale) / displaced);
        return {point.x() - point.y(), {1.0, -1.0}, variance};
    });
}

// A line that rises is seen to; its "time" is put far off on the slow side of all that sink.
Few<NormalOutcome> drop_outcomes(const Bench& bench) {
    const auto& water = bench.evidence.water;
    return bench.ask([&](const LinePoint& point) -> Bench::Local {
        const auto rate = ln_sink_rate(point, water);
        if (rate.rises) return {std::log(1e-4), {0.0, 0.0}, 1.0};
        const double model = sink_rate_model_uncertainty(rate.reynolds);
        const Duration time = next_drop / Speed::from_si(std::exp(rate.value));
        return {rate.value, rate.slope,
                relative_variance<Duration>(time, bench.stopwatch) +
                    relative_variance<Length>(next_drop, bench.tape) + model * model};
    });
}

Few<TabledOutcome> tint_outcomes(const Bench& bench) {
    return bench.ask_table([&](const Contender& each) -> const ResultTable& {
        return bench.library.tint_results(each.index);
    });
}

Few<TabledOutcome> taper_outcomes(const Bench& bench) {
    return bench.ask_table([&](const Contender& each) -> const ResultTable& {
        return bench.library.taper_results(each.index);
    });
}

Few<TabledOutcome> whole_length_outcomes(const Bench& bench) {
    return bench.ask_table([&](const Contender& each) -> const ResultTable& {
        return bench.library.length_results(each.index);
    });
}

Tidings floats_tidings(const Bench& bench) {
    Few<std::array<double, 2>> tables;
    for (const auto& each : bench.contenders) {
        const double lighter = probability_lighter_than(each.line, bench.evidence.water);
        const double yes = floating_misjudged + (1.0 - 2.0 * floating_misjudged) * lighter;
        tables.push_back({yes, 1.0 - yes});
    }
    Few<TabledOutcome> outcomes;
    for (std::size_t i = 0; i < tables.size(); ++i) {
        const auto& each = bench.contenders[i];
        outcomes.push_back({each.share, tables[i], each.answer, entropy_of(tables[i])});
    }
    return tidings_of(std::span(outcomes.data(), outcomes.size()));
}

// Which answer a class gives to the question.
std::size_t answer_of(std::size_t k, const PreparedLibrary& library, const Question& question) {
    switch (question.answer) {
        case Answer::line:
            return k;
        case Answer::grain_class:
            return library.grain_classes.of_class[k];
        case Answer::density_grade:
            return library.density_grades.of_class[k];
        case Answer::fishes_like: {
            const auto like = question.like.value_or(library.unlisted());
            const auto& alike = library.fishing_like(like);
            return k == like || std::ranges::count(alike, k) > 0 ? 1 : 0;
        }
    }
    return k;
}

Few<Contender> contenders_of(const PreparedLibrary& library, const Posterior& posterior,
                             const Question& question) {
    Few<Contender> contenders;
    double sum = 0.0;
    for (const auto k : posterior.contenders()) {
        const double share = posterior.probabilities()[k];
        if (share < least_share) continue;
        const auto line = posterior.line_of(k);
        if (!is_conceivable(line.mean)) continue;
        contenders.push_back({k, share, answer_of(k, library, question), line});
        sum += share;
    }
    // Answers are numbered anew from 0, in the order of their appearance.
    Few<std::size_t> known;
    for (auto& each : contenders) {
        each.share /= sum;
        auto place = std::ranges::find(known, each.answer);
        if (place == known.end()) place = known.insert(known.end(), each.answer);
        each.answer = static_cast<std::size_t>(place - known.begin());
    }
    return contenders;
}

// No reading tells more than the doubt there is, in bits.
double doubt(const Few<Contender>& contenders) {
    Few<double> shares;
    for (const auto& each : contenders) {
        if (each.answer >= shares.size()) shares.resize(each.answer + 1, 0.0);
        shares[each.answer] += each.share;
    }
    double bits = 0.0;
    for (const double share : shares) bits -= share * std::log2(share);
    return bits;
}

// Gathers what is worth advising.
class Adviser {
  public:
    Adviser(const Question& question, Advice wanted, double doubt)
        : question_(question), wanted_(wanted), doubt_(doubt) {}

    // `outcomes_of()`: what the reading would be under each class.
    void consider(ReadingField field, Duration time, std::string_view how,
                  const auto& outcomes_of) {
        if (cannot_win(doubt_, time)) return;
        const auto outcomes = outcomes_of();
        const std::span all(outcomes.data(), outcomes.size());
        if (cannot_win(most_bits(all), time)) return;
        offer(field, time, how, tidings_of(all));
    }
    void offer(ReadingField field, Duration time, std::string_view how, const Tidings& tidings) {
        if (tidings.chance_of_change >= unlikely_change) outlook_.enough = false;
        if (tidings.bits < least_bits) return;
        const ReadingAdvice advice{field, tidings.bits, tidings.chance_of_change, time, how};
        auto& all = outlook_.advice;
        if (wanted_ == Advice::the_best && !all.empty()) {
            if (worth(advice) > worth(all.front())) all.front() = advice;
        } else {
            all.push_back(advice);
        }
    }
    [[nodiscard]] Outlook outlook() && {
        if (wanted_ == Advice::the_best) outlook_.enough = false;
        std::ranges::stable_sort(outlook_.advice, std::greater{},
                                 [&](const ReadingAdvice& each) { return worth(each); });
        return std::move(outlook_);
    }

  private:
    [[nodiscard]] double worth(const ReadingAdvice& each) const {
        return question_.by_time ? each.bits_per_minute() : each.bits;
    }
    // Whether a reading of at most so many bits (right to a billionth) need not be reckoned.
    [[nodiscard]] bool cannot_win(double bits, Duration time) const {
        if (wanted_ == Advice::all) return false;
        const double most = bits + 1e-9;
        return most < least_bits || (!outlook_.advice.empty() &&
                                     worth({{}, most, 0.0, time, {}}) <= worth(outlook_.advice[0]));
    }

    const Question& question_;
    Advice wanted_;
    double doubt_;
    Outlook outlook_{{}, true};
};

}  // namespace

Outlook further_readings(const CoilReadings& readings, const Evidence& evidence,
                         const Instruments& instruments, const PreparedLibrary& library,
                         const Posterior& posterior, const Question& question, Advice wanted) {
    auto contenders = contenders_of(library, posterior, question);
    const double most = doubt(contenders);
    if (most < least_bits) return {{}, true};
    const auto scale = scale_of(instruments, readings.scale);
    const auto tape = tape_of(instruments, readings.tape);
    const auto micrometer = micrometer_of(instruments, readings.micrometer);
    assert(scale && tape && micrometer && "the evidence was made with these instruments");
    const Bench bench{readings,    evidence,
                      *scale,      *tape,
                      *micrometer, instruments.stopwatches.at(""),
                      library,     std::move(contenders)};
    const auto& times = question.times;
    const auto sample = weighed_sample(readings);
    Adviser adviser(question, wanted, most);
    // Looks come first, since what they tell is soon reckoned.
    if (!readings.taper) {
        adviser.consider(ReadingField::taper, times.taper, "feel whether it is level or tapered",
                         [&] { return taper_outcomes(bench); });
    }
    if (!readings.tint) {
        adviser.consider(ReadingField::tint, times.tint, "note its tint",
                         [&] { return tint_outcomes(bench); });
    }
    if (!readings.floats && !evidence.drop) {
        adviser.offer(ReadingField::floats, times.floats, "see whether it floats when pushed under",
                      floats_tidings(bench));
    }
    if (sample && !readings.submerged_weight) {
        adviser.consider(ReadingField::submerged_weight, times.submerged,
                         "weigh the same piece hanging in water",
                         [&] { return submerged_outcomes(bench); });
    }
    if (!evidence.drop && readings.floats != true) {
        adviser.consider(ReadingField::sink_time, times.drop,
                         "time a level piece sinking 24 in of still water",
                         [&] { return drop_outcomes(bench); });
    }
    if (readings.diameters.empty()) {
        adviser.consider(ReadingField::diameters, times.diameters,
                         "measure the diameter in three places",
                         [&] { return diameter_outcomes(bench); });
    }
    if (!sample && !weighed_whole(readings)) {
        adviser.consider(ReadingField::sample_weight, times.short_sample,
                         "weigh a measured piece, 24 in or longer",
                         [&] { return sample_outcomes(bench, next_short_sample); });
    } else if (!weighed_whole(readings) && sample->length.value < 0.5 * next_long_sample) {
        adviser.consider(ReadingField::sample_weight, times.long_sample,
                         "weigh a longer piece, 10 ft or the whole coil",
                         [&] { return sample_outcomes(bench, next_long_sample); });
    }
    if (!readings.whole_length) {
        adviser.consider(ReadingField::whole_length, times.whole_length,
                         "measure the whole coil's length",
                         [&] { return whole_length_outcomes(bench); });
    }
    return std::move(adviser).outlook();
}

}  // namespace coilbook
