#include "identify/gauss_legendre.h"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/legendre.hpp>
#include <cassert>

namespace coilbook {
namespace {

std::vector<LegendreNode> rule_of(int count) {
    std::vector<LegendreNode> rule;
    for (const double zero : boost::math::legendre_p_zeros<double>(count)) {  // not below 0
        const double slope = boost::math::legendre_p_prime(count, zero);
        const double weight = 2.0 / ((1.0 - zero * zero) * slope * slope);
        rule.push_back({zero, weight});
        if (zero != 0.0) rule.push_back({-zero, weight});
    }
    std::ranges::sort(rule, {}, &LegendreNode::at);
    return rule;
}

}  // namespace

const std::vector<LegendreNode>& gauss_legendre(int count) {
    constexpr int most = 64;
    assert(count >= 1 && count <= most);
    static const auto rules = [] {
        std::array<std::vector<LegendreNode>, most + 1> all;
        for (int n = 1; n <= most; ++n) all[static_cast<std::size_t>(n)] = rule_of(n);
        return all;
    }();
    return rules[static_cast<std::size_t>(count)];
}

}  // namespace coilbook
