#include "identify/next_reading.h"

#include <algorithm>
#include <boost/container/static_vector.hpp>
#include <cassert>
#include <cmath>

#include "identify/reading_outcomes.h"

namespace coilbook {
namespace {

constexpr double least_share = 1e-3;  // classes below this do not matter for the question

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

// A reading that could still be taken, and how to find out what it tells: by `tidings`, where its
// results are few, or from what it would be under each class.
struct Open {
    ReadingField field;
    Duration time;
    std::string_view how;
    Tidings (*tidings)(const Bench&);
    Few<NormalOutcome> (*outcomes)(const Bench&);
    double (*most_bits)(const Bench&) = nullptr;  // a bound, where `tidings` are dear
};
using OpenReadings = boost::container::static_vector<Open, 8>;

// Looks come first, since what they tell is soon reckoned.
OpenReadings open_readings(const CoilReadings& readings, const BenchTimes& times,
                           const Units& units) {
    const auto sample = weighed_sample(readings);
    const bool is_timed = readings.sink_distance && readings.sink_time;
    OpenReadings open;
    const auto look = [&](ReadingField field, Duration time, std::string_view how,
                          Tidings (*tidings)(const Bench&),
                          double (*most_bits)(const Bench&) = nullptr) {
        open.push_back({field, time, how, tidings, nullptr, most_bits});
    };
    const auto measure = [&](ReadingField field, Duration time, std::string_view how,
                             Few<NormalOutcome> (*outcomes)(const Bench&)) {
        open.push_back({field, time, how, nullptr, outcomes});
    };
    if (!readings.taper) {
        look(ReadingField::taper, times.taper, "feel whether it is level or tapered",
             taper_tidings);
    }
    if (!readings.tint) look(ReadingField::tint, times.tint, "note its tint", tint_tidings);
    if (!readings.floats && !is_timed) {
        look(ReadingField::floats, times.floats, "see whether it floats when pushed under",
             floats_tidings);
    }
    if (sample && !readings.submerged_weight) {
        measure(ReadingField::submerged_weight, times.submerged,
                "weigh the same piece hanging in water", submerged_outcomes);
    }
    if (!is_timed && readings.floats != true) {
        measure(ReadingField::sink_time, times.drop,
                units.of("time a level piece sinking 24 in of still water",
                         "time a level piece sinking 60 cm of still water"),
                drop_outcomes);
    }
    if (readings.diameters.empty()) {
        measure(ReadingField::diameters, times.diameters, "measure the diameter in three places",
                diameter_outcomes);
    }
    if (!sample && !weighed_whole(readings)) {
        measure(ReadingField::sample_weight, times.short_sample,
                units.of("weigh a measured piece, 24 in or longer",
                         "weigh a measured piece, 60 cm or longer"),
                short_sample_outcomes);
    } else if (!weighed_whole(readings) && sample->length.value < 0.5 * next_long_sample) {
        measure(ReadingField::sample_weight, times.long_sample,
                units.of("weigh a longer piece, 10 ft or the whole coil",
                         "weigh a longer piece, 3 m or the whole coil"),
                long_sample_outcomes);
    }
    if (!readings.whole_length) {
        look(ReadingField::whole_length, times.whole_length, "measure the whole coil's length",
             whole_length_tidings, most_bits_of_whole_length);
    }
    return open;
}

ReadingAdvice advice_of(const Open& open, const Tidings& tidings) {
    return {open.field, tidings.bits, tidings.chance_of_change, open.time, open.how};
}

double worth(const ReadingAdvice& advice, const Question& question) {
    return question.by_time ? advice.bits_per_minute() : advice.bits;
}

// Everything that is worth advising.
Outlook whole_outlook(const Bench& bench, const OpenReadings& open, const Question& question) {
    Outlook outlook{{}, true};
    for (const auto& each : open) {
        Tidings tidings{};
        if (each.tidings) {
            tidings = each.tidings(bench);
        } else {
            const auto outcomes = each.outcomes(bench);
            tidings = tidings_of(std::span(outcomes.data(), outcomes.size()));
        }
        if (tidings.chance_of_change >= unlikely_change) outlook.enough = false;
        if (tidings.bits >= least_bits) outlook.advice.push_back(advice_of(each, tidings));
    }
    std::ranges::stable_sort(outlook.advice, std::greater{},
                             [&](const ReadingAdvice& each) { return worth(each, question); });
    return outlook;
}

// What one reading may be worth: bounds that are ever sharper and ever dearer, and the truth last.
class Prospect {
  public:
    Prospect(const Open& open, double most) : open_(open), advice_(advice_of(open, {most, 0.0})) {}

    // At most; and when it is known, exactly.
    [[nodiscard]] const ReadingAdvice& advice() const { return advice_; }
    [[nodiscard]] bool is_known() const { return is_known_; }

    void sharpen(const Bench& bench) {
        ++step_;
        if (open_.tidings) {
            if (step_ == 1 && open_.most_bits) return at_most(open_.most_bits(bench));
            return know(open_.tidings(bench));
        }
        if (step_ == 1) outcomes_ = open_.outcomes(bench);
        const std::span outcomes(outcomes_.data(), outcomes_.size());
        if (step_ == 1) return at_most(most_bits(outcomes));
        if (step_ == 2) return at_most(most_bits_by_pairs(outcomes));
        know(tidings_of(outcomes));
    }

  private:
    // Bounds are right to a billionth.
    void at_most(double bits) { advice_.bits = std::min(advice_.bits, bits + 1e-9); }
    void know(const Tidings& tidings) {
        advice_ = advice_of(open_, tidings);
        is_known_ = true;
    }

    const Open& open_;
    ReadingAdvice advice_;
    int step_ = 0;
    bool is_known_ = false;
    Few<NormalOutcome> outcomes_;
};

// Only the first of what whole_outlook() would advise: whichever reading may be worth most is
// looked at more closely, until that one is known, and so beats all others whatever they are.
Outlook best_outlook(const Bench& bench, const OpenReadings& open, const Question& question,
                     double most) {
    boost::container::static_vector<Prospect, OpenReadings::static_capacity> prospects;
    for (const auto& each : open) prospects.emplace_back(each, most + 1e-9);
    const auto worth_of = [&](const Prospect& each) {
        return each.advice().bits < least_bits ? -1.0 : worth(each.advice(), question);
    };
    while (true) {
        const auto first = std::ranges::max_element(prospects, {}, worth_of);
        if (first == prospects.end() || worth_of(*first) < 0.0) return {{}, false};
        if (first->is_known()) return {{first->advice()}, false};
        first->sharpen(bench);
    }
}

}  // namespace

Outlook further_readings(const CoilReadings& readings, const Evidence& evidence,
                         const Instruments& instruments, const PreparedLibrary& library,
                         const Posterior& posterior, const Question& question, Advice wanted,
                         const Units& units) {
    const auto used = bench_instruments(readings, instruments);
    assert(used && "the evidence was made with these instruments");
    const Bench bench{readings, evidence, *used, library,
                      contenders_of(library, posterior, question)};
    const double most = doubt(bench.contenders);
    if (most < least_bits) return {{}, true};
    const auto open = open_readings(readings, question.times, units);
    if (wanted == Advice::all) return whole_outlook(bench, open, question);
    return best_outlook(bench, open, question, most);
}

}  // namespace coilbook
