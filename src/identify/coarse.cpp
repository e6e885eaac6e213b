#include "identify/coarse.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "identify/gauss_legendre.h"

namespace coilbook {
namespace {

struct Node {
    double error;
    double share;
};

// Nodes for a function that is smooth over `width` on a piece that is `length` long: the nodes of
// the rule stand at most π/2 times as wide as evenly spaced ones, and nine tenths of the width
// between two of them is near enough (checked against brute force).
int nodes_for(double length, double width) {
    return std::clamp(4 + static_cast<int>(std::ceil(1.75 * length / width)), 6, 48);
}

void add_piece(std::vector<Node>& nodes, double from, double to, int count, const auto& density) {
    for (const auto& [at, weight] : gauss_legendre(count)) {
        const double error = std::midpoint(from, to) + 0.5 * (to - from) * at;
        nodes.push_back({error, 0.5 * (to - from) * weight * density(error)});
    }
}

// The sum of two rectangles is a trapezoid; one alone is the special case narrow = 0.
std::vector<Node> trapezoid(double wide, double narrow, double width) {
    const double flat = wide - narrow;
    const double end = wide + narrow;
    const auto density = [&](double error) {
        const double off = std::abs(error);
        const double height = 0.5 / wide;
        return off <= flat ? height : height * (end - off) / (2.0 * narrow);
    };
    std::vector<Node> nodes;
    if (flat > 1e-9 * wide) add_piece(nodes, -flat, flat, nodes_for(2.0 * flat, width), density);
    if (narrow > 0.0) {
        const int count = nodes_for(2.0 * narrow, width);
        add_piece(nodes, -end, -flat, count, density);
        add_piece(nodes, flat, end, count, density);
    }
    return nodes;
}

// How far a rectangle's standard deviation moves the row that it moves most.
double effect_of(const ErrorSource& source, const Eigen::Matrix<double, 4, 6>& derivatives) {
    if (source.rectangle == 0.0) return 0.0;
    return source.rectangle_sd() * (derivatives * source.moves).cwiseAbs().maxCoeff();
}

}  // namespace

std::uint32_t coarse_sources(const StraightReadings& straight,
                             const Eigen::Matrix<double, 4, 6>& derivatives) {
    std::uint32_t coarse = 0;
    for (std::size_t i = 0; i < straight.sources.size(); ++i) {
        if (effect_of(straight.sources[i], derivatives) > passes_for_a_bell) coarse |= 1U << i;
    }
    return coarse;
}

std::uint32_t without_the_narrowest(std::uint32_t coarse, const StraightReadings& straight,
                                    const Eigen::Matrix<double, 4, 6>& derivatives) {
    std::size_t narrowest = straight.sources.size();
    double least = HUGE_VAL;
    for (std::size_t i = 0; i < straight.sources.size(); ++i) {
        const double effect = effect_of(straight.sources[i], derivatives);
        if ((coarse >> i & 1U) == 0 || effect >= least) continue;
        narrowest = i;
        least = effect;
    }
    return coarse & ~(1U << narrowest);
}

std::vector<Possibility> possibilities(const StraightReadings& straight,
                                       const Eigen::Matrix<double, 4, 6>& derivatives,
                                       const RowVector4& row_sd, std::uint32_t coarse) {
    // Errors that move the same readings add up to one.
    struct Pair {
        ReadVector moves;
        double wide = 0.0;
        double narrow = 0.0;
    };
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < straight.sources.size(); ++i) {
        if ((coarse >> i & 1U) == 0) continue;
        const auto& source = straight.sources[i];
        auto same = std::ranges::find_if(
            pairs, [&](const Pair& pair) { return pair.moves == source.moves; });
        if (same == pairs.end()) same = pairs.insert(pairs.end(), Pair{source.moves});
        same->narrow = std::min(same->wide, source.rectangle);
        same->wide = std::max(same->wide, source.rectangle);
    }
    std::vector<Possibility> all{{ReadVector::Zero(), 0.0}};
    for (const auto& pair : pairs) {
        // The width in the reading's own unit over which the rows' likelihood changes.
        double width = HUGE_VAL;
        for (Eigen::Index row = 0; row < 4; ++row) {
            const double slope = std::abs(derivatives.row(row).dot(pair.moves));
            if (slope == 0.0) continue;
            width = std::min(width, std::hypot(row_sd(row), narrowest_line_spread) / slope);
        }
        const auto nodes = trapezoid(pair.wide, pair.narrow, width);
        if (all.size() * nodes.size() > most_nodes) return {};
        std::vector<Possibility> next;
        for (const auto& each : all) {
            for (const auto& node : nodes) {
                next.push_back(
                    {each.errors + node.error * pair.moves, each.ln_share + std::log(node.share)});
            }
        }
        all = std::move(next);
    }
    return all;
}

}  // namespace coilbook
