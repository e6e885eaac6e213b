#include "identify/next_reading.h"

#include <algorithm>
#include <array>
#include <boost/container/small_vector.hpp>
#include <cassert>
#include <cmath>
#include <numbers>

#include "identify/error_budget.h"

namespace coilbook {
namespace {

constexpr double least_share = 1e-3;  // classes below this do not matter for the question

double square(double number) {
    return number * number;
}

// Few classes are left in a race as a rule, so that the lists fit without asking for memory.
template <class T>
using Few = boost::container::small_vector<T, 16>;

// The classes that still count, with their probabilities brought back to a sum of 1.
struct Contender {
    std::size_t index;
    double share;
    std::size_t answer;
    Gaussian2 line;
};

// Gathers, result by result, what the answers' probabilities become.
class Reckoning {
  public:
    explicit Reckoning(std::size_t answers) : prior_(answers, 0.0), now_(answers, 0.0) {}

    void count(std::size_t answer, double weight) { prior_[answer] += weight; }
    // Before the first result.
    void start() {
        best_ = static_cast<std::size_t>(std::ranges::max_element(prior_) - prior_.begin());
    }

    void begin_result() { std::ranges::fill(now_, 0.0); }
    void add(std::size_t answer, double joint) { now_[answer] += joint; }
    // `scale` times what was added since is the joint probability of the answers and this result.
    void end_result(double scale) {
        double all = 0.0;
        double highest = 0.0;
        for (const double each : now_) {
            all += each;
            highest = std::max(highest, each);
        }
        if (!(all > 0.0)) return;
        double sum = 0.0;
        for (std::size_t g = 0; g < now_.size(); ++g) {
            if (now_[g] > 0.0) sum += now_[g] * std::log(now_[g] / (prior_[g] * all));
        }
        nats_ += scale * sum;
        if (now_[best_] < highest) change_ += scale * all;
    }
    [[nodiscard]] Tidings tidings() const {
        return {std::max(nats_ / std::numbers::ln2, 0.0), std::min(change_, 1.0)};
    }

  private:
    Few<double> prior_;
    Few<double> now_;
    std::size_t best_ = 0;
    double nats_ = 0.0;
    double change_ = 0.0;
};

template <class Outcomes>
Reckoning reckoning_of(const Outcomes& outcomes) {
    std::size_t answers = 0;
    for (const auto& each : outcomes) answers = std::max(answers, each.answer + 1);
    Reckoning reckoning(answers);
    for (const auto& each : outcomes) reckoning.count(each.answer, each.weight);
    reckoning.start();
    return reckoning;
}

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
    [[nodiscard]] Tidings ask(const auto& reading) const {
        Few<NormalOutcome> outcomes;
        for (const auto& each : contenders) {
            const Local local = reading(each.line.mean);
            const double spread =
                (local.slope * each.line.covariance * local.slope.transpose()).value();
            outcomes.push_back(
                {each.share, local.value, std::sqrt(spread + local.variance), each.answer});
        }
        return tidings_of(std::span<const NormalOutcome>(outcomes.data(), outcomes.size()));
    }

    // A reading with N results, P(result | contender).
    template <std::size_t N>
    [[nodiscard]] Tidings ask_table(const auto& results_of) const {
        Few<std::array<double, N>> tables;
        for (const auto& each : contenders) tables.push_back(results_of(each));
        Few<TabledOutcome> outcomes;
        for (std::size_t i = 0; i < contenders.size(); ++i) {
            outcomes.push_back({contenders[i].share, tables[i], contenders[i].answer});
        }
        return tidings_of(std::span<const TabledOutcome>(outcomes.data(), outcomes.size()));
    }
};

Tidings sample_tidings(const Bench& bench, Length length) {
    return bench.ask([&](const LinePoint& point) -> Bench::Local {
        const Mass weight = line_at(point).weight_per_length * length;
        return {point.x(),
                {1.0, 0.0},
                relative_variance<Mass>(weight, bench.scale) +
                    relative_variance<Length>(length, bench.tape)};
    });
}

Tidings diameter_tidings(const Bench& bench) {
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
Tidings submerged_tidings(const Bench& bench) {
    const Mass in_air = bench.readings.sample_weight->value;
    const double water = bench.evidence.water.density.in(gram_per_cubic_centimetre);
    return bench.ask([&](const LinePoint& point) -> Bench::Local {
        const Mass displaced = in_air * (water * std::exp(-point.y()));
        const double variance = 2.0 * square(own_uncertainty(bench.scale) / displaced);
        return {point.x() - point.y(), {1.0, -1.0}, variance};
    });
}

// A line that rises is seen to; its "time" is put far off on the slow side of all that sink.
Tidings drop_tidings(const Bench& bench) {
    const auto& water = bench.evidence.water;
    return bench.ask([&](const LinePoint& point) -> Bench::Local {
        const auto rate = ln_sink_rate(point, water);
        if (rate.rises) return {std::log(1e-4), {0.0, 0.0}, 1.0};
        const double model = sink_rate_model_uncertainty(std::exp(rate.ln_reynolds));
        const Duration time = next_drop / Speed::from_si(std::exp(rate.value));
        return {rate.value, rate.slope,
                relative_variance<Duration>(time, bench.stopwatch) +
                    relative_variance<Length>(next_drop, bench.tape) + model * model};
    });
}

Tidings tint_tidings(const Bench& bench) {
    return bench.ask_table<5>(
        [&](const Contender& each) { return bench.library[each.index].tints; });
}

Tidings taper_tidings(const Bench& bench) {
    return bench.ask_table<2>([&](const Contender& each) {
        const double tapered = bench.library[each.index].tapered;
        return std::array{tapered, 1.0 - tapered};
    });
}

Tidings floats_tidings(const Bench& bench) {
    return bench.ask_table<2>([&](const Contender& each) {
        const double lighter = probability_lighter_than(each.line, bench.evidence.water);
        const double yes = floating_misjudged + (1.0 - 2.0 * floating_misjudged) * lighter;
        return std::array{yes, 1.0 - yes};
    });
}

Tidings whole_length_tidings(const Bench& bench) {
    Few<TabledOutcome> outcomes;
    for (const auto& each : bench.contenders) {
        outcomes.push_back({each.share, bench.library.length_results(each.index), each.answer});
    }
    return tidings_of(std::span<const TabledOutcome>(outcomes.data(), outcomes.size()));
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

}  // namespace

namespace {

// How many classes give each answer, with their weight together.
struct AnswerShare {
    double weight = 0.0;
    int classes = 0;
};
Few<AnswerShare> answer_shares(std::span<const NormalOutcome> outcomes) {
    Few<AnswerShare> shares;
    for (const auto& each : outcomes) {
        if (each.answer >= shares.size()) shares.resize(each.answer + 1);
        shares[each.answer].weight += each.weight;
        ++shares[each.answer].classes;
    }
    return shares;
}
Eigen::Index likeliest(const Few<AnswerShare>& shares) {
    return std::ranges::max_element(shares, {}, &AnswerShare::weight) - shares.begin();
}

// Where the spreads are alike: one row of evenly spaced points for all classes. The bits are
// Σ_g ∫ p(g, z) ln p(g, z) − ∫ p(z) ln p(z) − Σ_g P(g) ln P(g), and the first is known of an answer
// that only one class gives.
Tidings tidings_on_one_row(std::span<const NormalOutcome> outcomes, double from, double step,
                           Eigen::Index points) {
    const auto shares = answer_shares(outcomes);
    Eigen::ArrayXXd joint = Eigen::ArrayXXd::Zero(points, static_cast<Eigen::Index>(shares.size()));
    for (const auto& each : outcomes) {
        constexpr double reach = 6.5;
        const double begin = (each.mean - reach * each.sd - from) / step;
        const auto first = std::clamp<Eigen::Index>(static_cast<Eigen::Index>(begin), 0, points);
        const auto length = std::min<Eigen::Index>(
            static_cast<Eigen::Index>(2.0 * reach * each.sd / step) + 2, points - first);
        const double t = (from + step * static_cast<double>(first) - each.mean) / each.sd;
        const auto off = Eigen::ArrayXd::LinSpaced(
            length, t, t + step / each.sd * static_cast<double>(length - 1));
        const double height = each.weight / (each.sd * std::sqrt(2.0 * std::numbers::pi));
        joint.col(static_cast<Eigen::Index>(each.answer)).segment(first, length) +=
            height * (-0.5 * off.square()).exp();
    }
    constexpr double nothing = 1e-300;
    const Eigen::ArrayXd all = joint.rowwise().sum();
    double nats = -step * (all * all.max(nothing).log()).sum();
    for (std::size_t g = 0; g < shares.size(); ++g) {
        const auto density = joint.col(static_cast<Eigen::Index>(g));
        nats -= shares[g].weight * std::log(shares[g].weight);
        if (shares[g].classes > 1) nats += step * (density * density.max(nothing).log()).sum();
    }
    for (const auto& each : outcomes) {
        if (shares[each.answer].classes > 1) continue;
        const double entropy =
            0.5 * std::log(2.0 * std::numbers::pi * std::numbers::e) + std::log(each.sd);
        nats += each.weight * (std::log(each.weight) - entropy);
    }
    const double change =
        step * (joint.col(likeliest(shares)) < joint.rowwise().maxCoeff()).select(all, 0.0).sum();
    return {std::max(nats / std::numbers::ln2, 0.0), std::min(change, 1.0)};
}

// Where they are not: points every two fifths of a class's standard deviation, out to five of them,
// for each class; all points of one class at once, since the exponentials are most of the work.
Tidings tidings_class_by_class(std::span<const NormalOutcome> outcomes) {
    constexpr int count = 26;
    using Points = Eigen::Array<double, count, 1>;
    static const Points place = Points::LinSpaced(count, -5.0, 5.0);
    static const Points own = 0.5 * place.square();
    static const Points weight = (-own).exp() / (-own).exp().sum();

    const auto shares = answer_shares(outcomes);
    const auto best = likeliest(shares);
    Eigen::Array<double, count, Eigen::Dynamic> joint(count,
                                                      static_cast<Eigen::Index>(shares.size()));
    double nats = 0.0;
    double change = 0.0;
    for (const auto& from : outcomes) {
        // Joint densities of answer and reading, in units of this class's own density there.
        joint.setZero();
        for (const auto& each : outcomes) {
            const double apart = from.mean - each.mean;
            if (std::abs(apart) > 5.0 * from.sd + 7.0 * each.sd) continue;  // never seen there
            const double widening = from.sd / each.sd;
            const Points off = apart / each.sd + widening * place;
            joint.col(static_cast<Eigen::Index>(each.answer)) +=
                each.weight * widening * (own - 0.5 * off.square()).min(600.0).exp();
        }
        // What the reading is expected to say where this class is the truth.
        const auto told = joint.col(static_cast<Eigen::Index>(from.answer));
        const Points all = joint.rowwise().sum();
        nats += from.weight * (weight * (told / (shares[from.answer].weight * all)).log()).sum();
        change +=
            from.weight * (joint.col(best) < joint.rowwise().maxCoeff()).select(weight, 0.0).sum();
    }
    return {std::max(nats / std::numbers::ln2, 0.0), std::min(change, 1.0)};
}

}  // namespace

Tidings tidings_of(std::span<const NormalOutcome> outcomes) {
    if (outcomes.empty()) return {0.0, 0.0};
    double low = HUGE_VAL;
    double high = -HUGE_VAL;
    double narrowest = HUGE_VAL;
    for (const auto& each : outcomes) {
        low = std::min(low, each.mean - 6.0 * each.sd);
        high = std::max(high, each.mean + 6.0 * each.sd);
        narrowest = std::min(narrowest, each.sd);
    }
    const double step = 0.4 * narrowest;
    const double points = (high - low) / step + 1.0;
    const auto pairs = static_cast<double>(outcomes.size() * outcomes.size());
    if (points > std::max(26.0 * pairs / 3.0, 64.0)) return tidings_class_by_class(outcomes);
    return tidings_on_one_row(outcomes, low, step, static_cast<Eigen::Index>(points) + 1);
}

namespace {

// Answers that the same results speak for: told apart by their prior only, they stand as one.
struct Party {
    std::span<const double> results;
    double weight = 0.0;
    Few<double> answers;  // the weight of each
    double top = 0.0;     // of the heaviest answer
};

}  // namespace

Tidings tidings_of(std::span<const TabledOutcome> outcomes) {
    if (outcomes.empty()) return {0.0, 0.0};
    // Answers are the members of a party, or, where one has classes in several, all stand alone.
    Few<Party> parties;
    Few<std::size_t> party_of_answer;
    constexpr auto none = static_cast<std::size_t>(-1);
    bool can_join = true;
    for (const auto& each : outcomes) {
        auto party = std::ranges::find_if(parties, [&](const Party& other) {
            return other.results.data() == each.results.data();
        });
        if (party == parties.end()) {
            party = parties.insert(parties.end(), Party{each.results, 0.0, {}, 0.0});
        }
        const auto number = static_cast<std::size_t>(party - parties.begin());
        if (each.answer >= party_of_answer.size()) party_of_answer.resize(each.answer + 1, none);
        auto& known = party_of_answer[each.answer];
        can_join = can_join && (known == none || known == number);
        known = number;
        party->weight += each.weight;
        if (each.answer >= party->answers.size()) party->answers.resize(each.answer + 1, 0.0);
        party->answers[each.answer] += each.weight;
        party->top = std::max(party->top, party->answers[each.answer]);
    }
    if (!can_join) {
        auto reckoning = reckoning_of(outcomes);
        for (std::size_t result = 0; result < outcomes.front().results.size(); ++result) {
            reckoning.begin_result();
            for (const auto& each : outcomes) {
                reckoning.add(each.answer, each.weight * each.results[result]);
            }
            reckoning.end_result(1.0);
        }
        return reckoning.tidings();
    }
    const auto best = std::ranges::max_element(parties, {}, &Party::top);
    const auto results = [](const Party& party) {
        return Eigen::Map<const Eigen::ArrayXd>(party.results.data(),
                                                static_cast<Eigen::Index>(party.results.size()));
    };
    Eigen::ArrayXd all = Eigen::ArrayXd::Zero(results(*best).size());
    Eigen::ArrayXd highest = all;
    for (const auto& party : parties) {
        all += party.weight * results(party);
        highest = highest.max(party.top * results(party));
    }
    double nats = 0.0;
    for (const auto& party : parties) {
        nats += party.weight *
                (results(party) * (results(party).max(1e-300) / all.max(1e-300)).log()).sum();
    }
    const double change = (best->top * results(*best) < highest).select(all, 0.0).sum();
    return {std::max(nats / std::numbers::ln2, 0.0), std::min(change, 1.0)};
}

Outlook further_readings(const CoilReadings& readings, const Evidence& evidence,
                         const Instruments& instruments, const PreparedLibrary& library,
                         const Posterior& posterior, const Question& question) {
    Outlook outlook{{}, true};
    auto contenders = contenders_of(library, posterior, question);
    if (doubt(contenders) < least_bits) return outlook;
    const auto scale = scale_of(instruments, readings.scale);
    const auto tape = tape_of(instruments, readings.tape);
    const auto micrometer = micrometer_of(instruments, readings.micrometer);
    assert(scale && tape && micrometer && "the evidence was made with these instruments");
    const Bench bench{readings,    evidence,
                      *scale,      *tape,
                      *micrometer, instruments.stopwatches.at(""),
                      library,     std::move(contenders)};
    const auto& times = question.times;
    const auto offer = [&](ReadingField field, const Tidings& tidings, Duration time,
                           std::string_view how) {
        if (tidings.chance_of_change >= unlikely_change) outlook.enough = false;
        if (tidings.bits < least_bits) return;
        outlook.advice.push_back({field, tidings.bits, tidings.chance_of_change, time, how});
    };
    const auto sample = weighed_sample(readings);
    const bool weighed = sample || weighed_whole(readings);
    if (!weighed) {
        offer(ReadingField::sample_weight, sample_tidings(bench, next_short_sample),
              times.short_sample, "weigh a measured piece, 24 in or longer");
    } else if (!weighed_whole(readings) && sample->length.value < 0.5 * next_long_sample) {
        offer(ReadingField::sample_weight, sample_tidings(bench, next_long_sample),
              times.long_sample, "weigh a longer piece, 10 ft or the whole coil");
    }
    if (readings.diameters.empty()) {
        offer(ReadingField::diameters, diameter_tidings(bench), times.diameters,
              "measure the diameter in three places");
    }
    if (sample && !readings.submerged_weight) {
        offer(ReadingField::submerged_weight, submerged_tidings(bench), times.submerged,
              "weigh the same piece hanging in water");
    }
    if (!evidence.drop && readings.floats != true) {
        offer(ReadingField::sink_time, drop_tidings(bench), times.drop,
              "time a level piece sinking 24 in of still water");
    }
    if (!readings.floats && !evidence.drop) {
        offer(ReadingField::floats, floats_tidings(bench), times.floats,
              "see whether it floats when pushed under");
    }
    if (!readings.taper) {
        offer(ReadingField::taper, taper_tidings(bench), times.taper,
              "feel whether it is level or tapered");
    }
    if (!readings.tint) {
        offer(ReadingField::tint, tint_tidings(bench), times.tint, "note its tint");
    }
    if (!readings.whole_length) {
        offer(ReadingField::whole_length, whole_length_tidings(bench), times.whole_length,
              "measure the whole coil's length");
    }
    if (question.by_time) {
        std::ranges::stable_sort(outlook.advice, std::greater{}, &ReadingAdvice::bits_per_minute);
    } else {
        std::ranges::stable_sort(outlook.advice, std::greater{}, &ReadingAdvice::bits);
    }
    return outlook;
}

}  // namespace coilbook
