#include "rigging/tip_fit.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace coilbook {
namespace {

constexpr double alike = 0.15;

LinearDensity weight_of(const ReferenceClass& known) {
    return std::exp(known.line.ln_grains_per_foot_mean) * grain_per_foot;
}

auto order_of(const WalletTip& tip) {
    constexpr int unknown = -2;  // before all that are known
    return std::tuple(tip.grade ? tip.grade->rank() : unknown, tip.code);
}

}  // namespace

bool sinks_fast(const std::optional<DensityGrade>& grade) {
    return grade && *grade >= DensityGrade::type(6);
}

std::vector<LineSize> sizes_that_fit(const ReferenceClass& known,
                                     const std::optional<LinearDensity>& weight,
                                     const ReferenceLibrary& library) {
    std::vector<LineSize> sizes;
    const auto add = [&](LineSize size) {
        if (std::ranges::find(sizes, size) == sizes.end()) sizes.push_back(size);
    };
    if (known.family == Family::matched_tip) {
        if (known.line_size) add(*known.line_size);
        return sizes;
    }
    const bool is_leader = known.family == Family::sinking_leader;
    if (!is_leader && known.family != Family::level_line) return sizes;
    const auto own = weight.value_or(weight_of(known));
    for (const auto& each : library) {
        if (each.family != Family::matched_tip || !each.line_size) continue;
        const double ratio = own / weight_of(each);
        if (is_leader || std::abs(ratio - 1.0) <= alike) add(*each.line_size);
    }
    std::ranges::sort(sizes);
    return sizes;
}

std::optional<WalletTip> next_tip(const std::optional<WalletTip>& on,
                                  std::vector<WalletTip> wallet) {
    if (wallet.empty()) return std::nullopt;
    std::ranges::sort(wallet, {}, order_of);
    if (!on) return wallet.front();
    const auto next = std::ranges::upper_bound(wallet, order_of(*on), {}, order_of);
    return next == wallet.end() ? wallet.front() : *next;
}

}  // namespace coilbook
