#include "identify/tidings.h"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "identify/p_ln_p.h"

namespace coilbook {
namespace {

constexpr double nothing = 1e-300;  // instead of zero, where a logarithm is taken
const double root_two_pi = std::sqrt(2.0 * std::numbers::pi);

// Numbers side by side, as many as a reading has results or an integral has points.
using Row = boost::container::small_vector<double, 256>;

Eigen::Map<Eigen::ArrayXd> array(Row& row) {
    return {row.data(), static_cast<Eigen::Index>(row.size())};
}
Eigen::Map<const Eigen::ArrayXd> array(std::span<const double> row) {
    return {row.data(), static_cast<Eigen::Index>(row.size())};
}

std::span<const double> span(const Row& row) {
    return {row.data(), row.size()};
}

Tidings tidings(double nats, double change) {
    return {std::max(nats / std::numbers::ln2, 0.0), std::min(change, 1.0)};
}

// How many classes give an answer, with their weight together.
struct AnswerShare {
    double weight = 0.0;
    int classes = 0;
};
Few<AnswerShare> answer_shares(const auto& outcomes) {
    Few<AnswerShare> shares;
    for (const auto& each : outcomes) {
        if (each.answer >= shares.size()) shares.resize(each.answer + 1);
        shares[each.answer].weight += each.weight;
        ++shares[each.answer].classes;
    }
    return shares;
}
std::size_t likeliest(const Few<AnswerShare>& shares) {
    const auto best = std::ranges::max_element(shares, {}, &AnswerShare::weight);
    return static_cast<std::size_t>(best - shares.begin());
}

// Evenly spaced points over all that the reading may be, two fifths of the narrowest class's
// standard deviation apart. There are at most so many: a class that would need more of them is
// taken to be as wide as they are apart.
constexpr double most_points = 8192.0;
constexpr double reach = 7.0;  // standard deviations; beyond are parts in 10^10 of the bits

class PointRow {
  public:
    using Four = Eigen::Array4d;
    explicit PointRow(std::span<const NormalOutcome> outcomes) {
        double high = -HUGE_VAL;
        double narrowest = HUGE_VAL;
        for (const auto& each : outcomes) {
            from_ = std::min(from_, each.mean - reach * each.sd);
            high = std::max(high, each.mean + reach * each.sd);
            narrowest = std::min(narrowest, each.sd);
        }
        const double wanted = 0.4 * narrowest;
        step_ = std::max(wanted, (high - from_) / most_points);
        is_too_coarse_ = step_ > wanted;
        size_ = (static_cast<std::size_t>((high - from_) / step_) + 5) / 4 * 4;
    }
    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] double step() const { return step_; }
    [[nodiscard]] bool is_too_coarse() const { return is_too_coarse_; }
    [[nodiscard]] double sd_of(const NormalOutcome& each) const { return std::max(each.sd, step_); }

    // Hands out the joint density of a class and the reading, four points at a time, where it is
    // not nothing: `use(first of the four points, their densities)`. With h the step in standard
    // deviations, φ(t + h) = φ(t) r and r' = r q, where r = exp(−h t − h²/2) and q = exp(−h²): no
    // exponentials but the first three.
    void each_four(const NormalOutcome& each, const auto& use) const {
        const double middle = (each.mean - from_) / step_;  // in points
        const double sd = sd_of(each);
        const double h = step_ / sd;
        const auto points = static_cast<double>(size_);
        const auto first =
            static_cast<std::size_t>(std::clamp(middle - reach / h, 0.0, points)) / 4;
        const auto last =
            static_cast<std::size_t>(std::clamp(middle + reach / h + 4.0, 0.0, points)) / 4;
        const double t = (4.0 * static_cast<double>(first) - middle) * h;
        const double q = std::exp(-h * h);
        Four value, to_next;
        value(0) = each.weight / (sd * root_two_pi) * std::exp(-0.5 * t * t);
        double r = std::exp(-h * (t + 0.5 * h));
        const double q2 = q * q;
        const double q4 = q2 * q2;
        to_next(0) = r * r * r * r * q4 * q2;  // over four points at once
        for (Eigen::Index i = 1; i < 4; ++i) {
            value(i) = value(i - 1) * r;
            to_next(i) = to_next(i - 1) * q4;
            r *= q;
        }
        const double q16 = q4 * q4 * q4 * q4;
        for (auto four = first; four < last; ++four) {
            use(4 * four, value);
            value *= to_next;
            to_next *= q16;
        }
    }

  private:
    double from_ = HUGE_VAL;
    double step_;
    std::size_t size_;
    bool is_too_coarse_;
};

// How probable it is that the reading makes `best` less than `rival`, `all` being its density. The
// two cross between points; there the logarithm of their ratio is nearly straight.
double chance_of_less(const Row& best, const Row& rival, const Row& all, double step) {
    const auto ln_ratio = [&](std::size_t i) {
        return std::log(std::max(best[i], nothing) / std::max(rival[i], nothing));
    };
    double chance = 0.0;
    for (std::size_t i = 0; i + 1 < all.size(); ++i) {
        const bool here = best[i] < rival[i];
        const bool next = best[i + 1] < rival[i + 1];
        if (here && next) {
            chance += 0.5 * (all[i] + all[i + 1]);
        } else if (here != next) {
            const std::size_t less = here ? i : i + 1;
            const std::size_t more = here ? i + 1 : i;
            const double share = ln_ratio(less) / (ln_ratio(less) - ln_ratio(more));
            chance += share * (all[less] + 0.5 * share * (all[more] - all[less]));
        }
    }
    return step * chance;
}

// Over the points, of some of the classes: Σ_g ∫ p(g, z) ln p(g, z) dz of answers that several
// classes give, less ∫ p(z) ln p(z) dz; and how probable it is that the likeliest answer is not.
struct Integrals {
    double nats = 0.0;
    double change = 0.0;
};
Integrals integrals(const PointRow& place, std::span<const NormalOutcome> some,
                    const Few<AnswerShare>& shares) {
    const auto best = likeliest(shares);
    Row all(place.size(), 0.0);
    Row rival(place.size(), 0.0);
    Row of_best(place.size(), 0.0);
    Integrals found;
    const auto four_of = [](Row& row, std::size_t at) {
        return Eigen::Map<PointRow::Four>(row.data() + at);
    };
    // An answer of one class needs no row of its own.
    const auto take_alone = [&](const NormalOutcome& each) {
        place.each_four(each, [&](std::size_t at, const PointRow::Four& density) {
            four_of(all, at) += density;
            if (each.answer == best) {
                four_of(of_best, at) = density;
            } else {
                four_of(rival, at) = four_of(rival, at).max(density);
            }
        });
    };
    const auto take_together = [&](std::size_t answer) {
        Row own(place.size(), 0.0);
        for (const auto& each : some) {
            if (each.answer != answer) continue;
            place.each_four(each, [&](std::size_t at, const PointRow::Four& density) {
                four_of(own, at) += density;
            });
        }
        found.nats += place.step() * sum_of_p_ln_p(span(own));
        array(all) += array(own);
        if (answer == best) {
            of_best = own;
        } else {
            array(rival) = array(rival).max(array(own));
        }
    };
    for (std::size_t answer = 0; answer < shares.size(); ++answer) {
        if (shares[answer].classes > 1) take_together(answer);
    }
    for (const auto& each : some) {
        if (shares[each.answer].classes == 1) take_alone(each);
    }
    found.nats -= place.step() * sum_of_p_ln_p(span(all));
    found.change = chance_of_less(of_best, rival, all, place.step());
    return found;
}

// Where a few classes are far narrower than the others, no one row of points is fine enough for
// them and long enough for all. The wide ones are integrated alone, and what the narrow ones change
// in that on a row of their own, since it is nothing elsewhere.
constexpr double far_narrower = 500.0;

Integrals integrals(std::span<const NormalOutcome> outcomes, const Few<AnswerShare>& shares) {
    const PointRow place(outcomes);
    const double widest = std::ranges::max(outcomes, {}, &NormalOutcome::sd).sd;
    Few<NormalOutcome> sorted(outcomes.begin(), outcomes.end());
    const auto first_wide = std::partition(sorted.begin(), sorted.end(), [&](const auto& each) {
        return each.sd < widest / far_narrower;
    });
    const std::span all(sorted.data(), sorted.size());
    const auto narrow = all.first(static_cast<std::size_t>(first_wide - sorted.begin()));
    if (!place.is_too_coarse() || narrow.empty()) return integrals(place, outcomes, shares);
    const auto wide = all.subspan(narrow.size());
    const PointRow here(narrow);
    const auto together = integrals(here, all, shares);
    const auto without = integrals(here, wide, shares);
    auto found = integrals(PointRow(wide), wide, shares);
    found.nats += together.nats - without.nats;
    found.change += together.change - without.change;
    return found;
}

// An answer with its results: one table's, or mixed from the tables of several classes.
struct AnswerTable {
    std::span<const double> results;
    double weight = 0.0;
    double entropy = 0.0;
    bool is_mixed = false;
};
Few<AnswerTable> answer_tables(std::span<const TabledOutcome> outcomes) {
    Few<AnswerTable> tables;
    for (const auto& each : outcomes) {
        if (each.answer >= tables.size()) tables.resize(each.answer + 1);
        auto& table = tables[each.answer];
        table.is_mixed =
            table.is_mixed || (table.weight > 0.0 && table.results.data() != each.results.data());
        table.results = each.results;
        table.weight += each.weight;
        table.entropy = each.entropy;
    }
    return tables;
}

// Answers that the same results speak for: told apart by their prior only, they stand as one.
struct Party {
    std::span<const double> results;
    double weight;
    double top;  // of the heaviest answer
};
// `many`: answers or outcomes.
Few<Party> parties_of(const auto& many) {
    Few<Party> parties;
    for (const auto& each : many) {
        auto party = std::ranges::find_if(parties, [&](const Party& other) {
            return other.results.data() == each.results.data();
        });
        if (party == parties.end()) party = parties.insert(party, Party{each.results, 0.0, 0.0});
        party->weight += each.weight;
        party->top = std::max(party->top, each.weight);
    }
    return parties;
}

// With a handful of results, as of a look, and one class for each answer, all is soon added up.
constexpr std::size_t handful = 8;

bool is_soon_added_up(std::span<const TabledOutcome> outcomes) {
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
        if (outcomes[i].answer != i) return false;
    }
    return outcomes.front().results.size() <= handful;
}

Tidings soon_added_up(std::span<const TabledOutcome> outcomes) {
    const auto best = std::ranges::max_element(outcomes, {}, &TabledOutcome::weight);
    const std::size_t count = best->results.size();
    std::array<double, handful> all{};
    std::array<double, handful> highest{};
    double nats = 0.0;
    for (const auto& each : outcomes) {
        nats -= each.weight * each.entropy;
        for (std::size_t z = 0; z < count; ++z) {
            const double joint = each.weight * each.results[z];
            all[z] += joint;
            highest[z] = std::max(highest[z], joint);
        }
    }
    double change = 0.0;
    for (std::size_t z = 0; z < count; ++z) {
        if (best->weight * best->results[z] < highest[z]) change += all[z];
    }
    return tidings(nats - sum_of_p_ln_p({all.data(), count}), change);
}

}  // namespace

// The bits are Σ_g ∫ p(g, z) ln p(g, z) dz − ∫ p(z) ln p(z) dz − Σ_g P(g) ln P(g), and the first is
// known of an answer that only one class gives.
Tidings tidings_of(std::span<const NormalOutcome> outcomes) {
    if (outcomes.empty()) return {0.0, 0.0};
    const auto shares = answer_shares(outcomes);
    auto [nats, change] = integrals(outcomes, shares);
    for (const auto& each : outcomes) {
        if (shares[each.answer].classes == 1) {
            nats -= each.weight * (0.5 + std::log(root_two_pi * each.sd));
        }
    }
    double doubt = 0.0;
    for (const auto& share : shares) {
        const double part = share.weight * std::log(share.weight);
        doubt -= part;
        if (share.classes > 1) nats -= part;
    }
    return tidings(std::min(nats, doubt), change);
}

double entropy_of(std::span<const double> probabilities) {
    return -sum_of_p_ln_p(probabilities);
}

// Σ_g Σ_z p(g, z) ln p(g, z) − Σ_z p(z) ln p(z) − Σ_g P(g) ln P(g), the first known of an answer
// with one table.
Tidings tidings_of(std::span<const TabledOutcome> outcomes) {
    if (outcomes.empty()) return {0.0, 0.0};
    if (is_soon_added_up(outcomes)) return soon_added_up(outcomes);
    auto tables = answer_tables(outcomes);
    const auto best = static_cast<std::size_t>(
        std::ranges::max_element(tables, {}, &AnswerTable::weight) - tables.begin());
    Row all(outcomes.front().results.size(), 0.0);
    Row highest = all;
    Row of_best = all;
    double nats = 0.0;
    for (std::size_t g = 0; g < tables.size(); ++g) {
        const auto& table = tables[g];
        if (!table.is_mixed) {
            nats -= table.weight * table.entropy;
            if (g == best) array(of_best) = table.weight * array(table.results);
            continue;
        }
        Row own(all.size(), 0.0);
        for (const auto& each : outcomes) {
            if (each.answer == g) array(own) += each.weight * array(each.results);
        }
        nats += sum_of_p_ln_p(span(own)) - table.weight * std::log(table.weight);
        array(all) += array(own);
        array(highest) = array(highest).max(array(own));
        if (g == best) of_best = own;
    }
    tables.erase(std::ranges::remove_if(tables, &AnswerTable::is_mixed).begin(), tables.end());
    for (const auto& party : parties_of(tables)) {
        array(all) += party.weight * array(party.results);
        array(highest) = array(highest).max(party.top * array(party.results));
    }
    nats -= sum_of_p_ln_p(span(all));
    const double change = (array(of_best) < array(highest)).select(array(all), 0.0).sum();
    return tidings(nats, change);
}

double most_bits(std::span<const NormalOutcome> outcomes) {
    double mean = 0.0;
    double square = 0.0;
    double nats = 0.0;
    for (const auto& each : outcomes) mean += each.weight * each.mean;
    for (const auto& each : outcomes) {
        const double off = each.mean - mean;
        square += each.weight * (each.sd * each.sd + off * off);
        nats -= each.weight * std::log(each.sd);
    }
    if (square > 0.0) nats += 0.5 * std::log(square);
    return nats / std::numbers::ln2;
}

// D of two normals is ln(s'/s) + (s² + (m − m')²) / (2 s'²) − ½ (Cover and Thomas, from memory).
double most_bits_by_pairs(std::span<const NormalOutcome> outcomes) {
    return most_bits_by_pairs(
        outcomes.size(), [&](std::size_t i) { return outcomes[i].weight; },
        [&](std::size_t i, std::size_t j) {
            if (i == j) return 1.0;
            const double narrower = outcomes[i].sd / outcomes[j].sd;
            const double off = (outcomes[i].mean - outcomes[j].mean) / outcomes[j].sd;
            return narrower * std::exp(0.5 - 0.5 * (narrower * narrower + off * off));
        });
}

double closeness(std::span<const double> table, std::span<const double> other) {
    double divergence = 0.0;
    for (std::size_t z = 0; z < table.size(); ++z) {
        if (table[z] > 0.0) divergence += table[z] * std::log(table[z] / other[z]);
    }
    return std::exp(-divergence);
}

double most_bits(std::span<const TabledOutcome> outcomes) {
    double bits = 0.0;
    for (const auto& party : parties_of(outcomes)) bits -= party.weight * std::log2(party.weight);
    return bits;
}

}  // namespace coilbook
