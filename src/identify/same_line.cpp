#include "identify/same_line.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <queue>
#include <set>
#include <tuple>

#include "base/text.h"

namespace coilbook {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;

const Gaussian2 any_line{LinePoint(any_line_ln_weight_mean, any_line_ln_density_mean),
                         Vector2d(any_line_ln_weight_sd* any_line_ln_weight_sd,
                                  any_line_ln_density_sd* any_line_ln_density_sd)
                             .asDiagonal()};
constexpr std::string_view named_here = "Named in this bin, from the readings of ";

const Matrix2d within_line = Vector2d(within_line_ln_weight_sd * within_line_ln_weight_sd,
                                      within_line_ln_density_sd* within_line_ln_density_sd)
                                 .asDiagonal();

// Closer than this in weight per foot, in standard deviations of both, or not compared.
constexpr double farthest_neighbour = 5.0;

// What a coil says about its line, relative to any_line's mean: its own difference from the line
// is integrated out. With W the inverse of within_line and G = (W + Λ)⁻¹: Λ G W and W G h.
LineInformation about_line(const LineInformation& coil) {
    const Matrix2d inverse = within_line.inverse();
    const Matrix2d g = (inverse + coil.precision).inverse();
    const Matrix2d precision = coil.precision * g * inverse;
    LineInformation about;
    about.precision = 0.5 * (precision + precision.transpose());
    about.pull = inverse * (g * (coil.pull - coil.precision * any_line.mean));
    return about;
}

// ln Z of a group, up to constants of its coils, which cancel.
double ln_evidence(const LineInformation& group) {
    const Matrix2d precision = any_line.covariance.inverse() + group.precision;
    const Matrix2d narrowing = any_line.covariance * precision;
    return 0.5 * group.pull.dot(precision.inverse() * group.pull) -
           0.5 * std::log(narrowing.determinant());
}

// A group on its way.
struct Cluster {
    LineInformation about;
    double evidence = 0.0;
    std::vector<std::size_t> members;  // sorted
    std::set<std::size_t> neighbours;
    bool is_gone = false;

    [[nodiscard]] std::size_t first() const { return members.front(); }
};

// A priori, a partition has Π α Γ(size of a group) (Ewens' formula): a large group is one line
// rather than two that share it out.
double ln_odds_of_joining(const Cluster& a, const Cluster& b) {
    const double size_a = static_cast<double>(a.members.size());
    const double size_b = static_cast<double>(b.members.size());
    LineInformation both = a.about;
    both += b.about;
    return ln_evidence(both) - a.evidence - b.evidence - std::log(kinds_in_a_bin) +
           std::lgamma(size_a + size_b) - std::lgamma(size_a) - std::lgamma(size_b);
}

Cluster cluster_of(const LineInformation& coil, std::size_t index) {
    Cluster cluster;
    cluster.about = about_line(coil);
    cluster.evidence = ln_evidence(cluster.about);
    cluster.members = {index};
    return cluster;
}

Gaussian2 line_of(const LineInformation& about) {
    const Matrix2d covariance = (any_line.covariance.inverse() + about.precision).inverse();
    return {any_line.mean + covariance * about.pull, covariance};
}

// Where something is in weight per foot, and how surely.
struct Place {
    double x;
    double sd;
    std::size_t index;

    // Narrower than all lines are spread, so that the weight was read.
    [[nodiscard]] bool is_known() const { return sd < 0.2 * any_line_ln_weight_sd; }
    [[nodiscard]] bool is_near(const Place& other) const {
        return std::abs(x - other.x) <= farthest_neighbour * std::hypot(sd, other.sd);
    }
};
Place place_of(const LineInformation& about, std::size_t index) {
    const auto line = line_of(about);
    return {line.mean.x(), std::sqrt(line.covariance(0, 0)), index};
}

// Groups that grow: each starts as one coil, and a pair that is joined becomes a new one.
class Growing {
  public:
    explicit Growing(const std::vector<BinCoilLine>& coils) {
        for (const auto& coil : coils) {
            clusters_.push_back(cluster_of(coil.line, clusters_.size()));
        }
    }

    // Neighbours in weight per foot, as far as that was read.
    void find_neighbours() {
        std::vector<Place> places;
        for (std::size_t i = 0; i < clusters_.size(); ++i) {
            const auto place = place_of(clusters_[i].about, i);
            if (place.is_known()) places.push_back(place);
        }
        std::ranges::stable_sort(places, {}, &Place::x);
        for (std::size_t i = 0; i < places.size(); ++i) {
            const auto last = std::min(places.size(), i + 1 + neighbours_compared);
            for (std::size_t j = i + 1; j < last; ++j) {
                if (places[i].is_near(places[j])) meet(places[i].index, places[j].index);
            }
        }
    }

    void grow() {
        while (!candidates_.empty()) {
            const auto best = candidates_.top();
            candidates_.pop();
            if (clusters_[best.a].is_gone || clusters_[best.b].is_gone) continue;
            join(best.a, best.b);
        }
    }

    // The group of each coil, numbered from 0 in the order of their first coils.
    [[nodiscard]] std::vector<std::size_t> groups(std::size_t coils) const {
        std::vector<std::size_t> group_of(coils);
        for (std::size_t i = 0; i < clusters_.size(); ++i) {
            if (clusters_[i].is_gone) continue;
            for (const auto member : clusters_[i].members) group_of[member] = i;
        }
        return group_of;
    }

  private:
    struct Candidate {
        double ln_odds;
        std::size_t first_a, first_b;  // of equal ones the first in the coils' order goes first
        std::size_t a, b;
        bool operator<(const Candidate& other) const {
            return std::tuple(ln_odds, other.first_a, other.first_b) <
                   std::tuple(other.ln_odds, first_a, first_b);
        }
    };

    void meet(std::size_t a, std::size_t b) {
        if (clusters_[b].first() < clusters_[a].first()) std::swap(a, b);
        auto& one = clusters_[a];
        auto& other = clusters_[b];
        one.neighbours.insert(b);
        other.neighbours.insert(a);
        const double odds = ln_odds_of_joining(one, other);
        if (odds > 0.0) candidates_.push({odds, one.first(), other.first(), a, b});
    }

    void join(std::size_t a, std::size_t b) {
        Cluster joined;
        std::ranges::merge(clusters_[a].members, clusters_[b].members,
                           std::back_inserter(joined.members));
        joined.about = clusters_[a].about;
        joined.about += clusters_[b].about;
        joined.evidence = ln_evidence(joined.about);
        const std::size_t index = clusters_.size();
        std::set<std::size_t> neighbours;
        for (const auto old : {a, b}) {
            clusters_[old].is_gone = true;
            for (const auto neighbour : clusters_[old].neighbours) {
                clusters_[neighbour].neighbours.erase(old);
                if (!clusters_[neighbour].is_gone) neighbours.insert(neighbour);
            }
            clusters_[old].neighbours.clear();
        }
        clusters_.push_back(std::move(joined));
        for (const auto neighbour : neighbours) meet(index, neighbour);
    }

    std::vector<Cluster> clusters_;
    std::priority_queue<Candidate> candidates_;
};

// Each coil against all groups near it, as they were before any moves.
class Settling {
  public:
    Settling(const std::vector<BinCoilLine>& coils, const std::vector<std::size_t>& group_of) {
        for (const auto& coil : coils) coils_.push_back(about_line(coil.line));
        gather(group_of);
    }

    void move_coils() {
        std::vector<std::size_t> group_of(coils_.size());
        std::size_t next = groups_.size();  // what stays alone gets a number of its own
        for (std::size_t i = 0; i < coils_.size(); ++i) {
            const auto choice = choice_of(i);
            const bool is_likely = 2.0 * choice.best_probability > 1.0;
            group_of[i] = choice.best && is_likely ? *choice.best : next++;
        }
        gather(group_of);
    }

    // Of each coil, that it belongs where it is.
    [[nodiscard]] std::vector<double> probabilities() const {
        std::vector<double> all;
        for (std::size_t i = 0; i < coils_.size(); ++i) {
            all.push_back(choice_of(i).here_probability);
        }
        return all;
    }
    [[nodiscard]] const std::vector<Cluster>& groups() const { return groups_; }

  private:
    struct Choice {
        std::optional<std::size_t> best;  // nothing: alone
        double best_probability;
        double here_probability;
    };

    void gather(const std::vector<std::size_t>& group_of) {
        std::map<std::size_t, std::vector<std::size_t>> members;
        for (std::size_t i = 0; i < group_of.size(); ++i) members[group_of[i]].push_back(i);
        groups_.clear();
        places_.clear();
        group_of_.assign(coils_.size(), 0);
        widest_ = 0.0;
        for (auto& [number, of_group] : members) {
            Cluster group;
            for (const auto member : of_group) {
                group.about += coils_[member];
                group_of_[member] = groups_.size();
            }
            group.evidence = ln_evidence(group.about);
            group.members = std::move(of_group);
            const auto place = place_of(group.about, groups_.size());
            if (place.is_known()) {
                places_.push_back(place);
                widest_ = std::max(widest_, place.sd);
            }
            groups_.push_back(std::move(group));
        }
        std::ranges::stable_sort(places_, {}, &Place::x);
    }

    // ln of how probable it is that a coil belongs to a group, up to what all choices share.
    [[nodiscard]] double ln_weight(const LineInformation& coil, const Cluster& group) const {
        LineInformation with = group.about;
        with += coil;
        return std::log(static_cast<double>(group.members.size())) + ln_evidence(with) -
               group.evidence;
    }

    [[nodiscard]] Choice choice_of(std::size_t i) const {
        const auto& coil = coils_[i];
        const auto& own = groups_[group_of_[i]];
        const double alone = std::log(kinds_in_a_bin) + ln_evidence(coil);
        const bool is_alone = own.members.size() == 1;
        const auto place = place_of(coil, i);
        if (!place.is_known()) return {std::nullopt, 1.0, 1.0};

        std::vector<std::pair<std::size_t, double>> weights;
        double here = alone;
        double highest = alone;
        const double reach = farthest_neighbour * std::hypot(place.sd, widest_);
        auto near = std::ranges::lower_bound(places_, place.x - reach, {}, &Place::x);
        for (; near != places_.end() && near->x <= place.x + reach; ++near) {
            if (near->index == group_of_[i] || !near->is_near(place)) continue;
            weights.emplace_back(near->index, ln_weight(coil, groups_[near->index]));
        }
        if (!is_alone) {
            Cluster others;
            others.about.precision = own.about.precision - coil.precision;
            others.about.pull = own.about.pull - coil.pull;
            others.evidence = ln_evidence(others.about);
            others.members.assign(own.members.size() - 1, 0);
            here = ln_weight(coil, others);
            weights.emplace_back(group_of_[i], here);
        }
        Choice choice{std::nullopt, 0.0, 0.0};
        for (const auto& [group, weight] : weights) {
            if (weight > highest) {
                highest = weight;
                choice.best = group;
            }
        }
        double total = std::exp(alone - highest);
        for (const auto& [group, weight] : weights) total += std::exp(weight - highest);
        choice.best_probability = 1.0 / total;
        choice.here_probability = std::exp(here - highest) / total;
        return choice;
    }

    std::vector<LineInformation> coils_;
    std::vector<Cluster> groups_;
    std::vector<std::size_t> group_of_;
    std::vector<Place> places_;
    double widest_ = 0.0;
};

// Moves are few after the first round, and settle in two or three.
constexpr int settling_rounds = 4;

}  // namespace

double ln_odds_of_one_line(const LineInformation& a, const LineInformation& b) {
    return ln_odds_of_joining(cluster_of(a, 0), cluster_of(b, 1));
}

std::vector<LineGroup> same_lines(std::vector<BinCoilLine> coils) {
    std::ranges::sort(coils, {}, &BinCoilLine::code);
    Growing growing(coils);
    growing.find_neighbours();
    growing.grow();
    Settling settling(coils, growing.groups(coils.size()));
    for (int round = 0; round < settling_rounds; ++round) settling.move_coils();
    const auto probabilities = settling.probabilities();
    std::vector<LineGroup> groups;
    for (const auto& cluster : settling.groups()) {
        LineGroup group;
        for (const auto member : cluster.members) {
            group.codes.push_back(coils[member].code);
            group.probabilities.push_back(probabilities[member]);
        }
        group.line = line_of(cluster.about);
        groups.push_back(std::move(group));
    }
    std::ranges::sort(groups, {}, [](const LineGroup& group) {
        return std::pair(group.line.mean.x(), group.codes.front());
    });
    return groups;
}

LineGroup one_group_of(std::vector<BinCoilLine> coils) {
    assert(!coils.empty() && "a group has a coil");
    std::ranges::sort(coils, {}, &BinCoilLine::code);
    LineGroup group;
    LineInformation about;
    for (const auto& coil : coils) {
        about += about_line(coil.line);
        group.codes.push_back(coil.code);
        group.probabilities.push_back(1.0);
    }
    group.line = line_of(about);
    return group;
}

GroupName name_of_group(const LineGroup& group, const ReferenceLibrary& library) {
    // The group's line as its coils alone have it: any_line was the prior and is taken out again.
    LineInformation line;
    const Matrix2d any = any_line.covariance.inverse();
    const Matrix2d after = group.line.covariance.inverse();
    line.precision = after - any;
    line.pull = after * group.line.mean - any * any_line.mean;
    if (library.empty()) return {std::nullopt, 1.0};
    GroupName name;
    std::vector<double> ln;
    for (const auto& each : library) {
        ln.push_back(std::log(each.weight) + ln_marginal(line, gaussian_of(each.line)));
    }
    const auto best = std::ranges::max_element(ln) - ln.begin();
    double total = 0.0;
    double unlisted = 0.0;
    for (std::size_t k = 0; k < library.size(); ++k) {
        const double share = std::exp(ln[k] - ln[static_cast<std::size_t>(best)]);
        total += share;
        if (library[k].family == Family::unlisted) unlisted = share;
    }
    if (2.0 * unlisted > total) return {std::nullopt, unlisted / total};
    // Between them the listed classes have it; the first of them is the name.
    std::size_t listed = 0;
    double most = -1.0;
    for (std::size_t k = 0; k < library.size(); ++k) {
        const double share = std::exp(ln[k] - ln[static_cast<std::size_t>(best)]);
        if (library[k].family != Family::unlisted && share > most) {
            listed = k;
            most = share;
        }
    }
    return {listed, most / total};
}

Result<ReferenceClass> class_from_group(const std::string& name, std::optional<Family> family,
                                        const LineGroup& group,
                                        const std::vector<BinCoilLine>& coils,
                                        const ReferenceLibrary& library) {
    if (trimmed(name).empty() || trimmed(name) != name || !is_plain_text(name)) {
        return problem("name", quoted(name) + " cannot be a class's name",
                       "a few words without blanks around them");
    }
    double weight = 0.0;
    int listed = 0;
    for (const auto& each : library) {
        if (each.name == name) {
            return problem("name", "there is a class " + quoted(name) + " already", "another name");
        }
        if (each.family == Family::unlisted) continue;
        weight += each.weight;
        ++listed;
    }
    ReferenceClass made;
    made.name = name;
    made.family = family;
    made.weight = listed > 0 ? weight / listed : 1.0;
    made.line = distribution_of({group.line.mean, group.line.covariance + within_line});
    // Each tint, and each of level and tapered, counts as if seen once more, so that what five
    // coils did not have is rare and not impossible (Laplace's rule of succession).
    made.tints.fill(1.0);
    double tapered = 1.0;
    double looked_at = 2.0;
    double tints = static_cast<double>(made.tints.size());
    for (const auto& coil : coils) {
        if (!std::ranges::binary_search(group.codes, coil.code)) continue;
        if (coil.tint) {
            made.tints[static_cast<std::size_t>(*coil.tint)] += 1.0;
            tints += 1.0;
        }
        if (coil.taper) {
            tapered += *coil.taper == Taper::tapered ? 1.0 : 0.0;
            looked_at += 1.0;
        }
    }
    for (double& tint : made.tints) tint /= tints;
    made.tapered = tapered / looked_at;
    made.basis = std::string(named_here) + coilbook::listed(group.codes) + ".";
    return made;
}

bool is_named_here(const ReferenceClass& reference) {
    return reference.basis.starts_with(named_here);
}

Matrix2d within_line_covariance() {
    return within_line;
}

}  // namespace coilbook
