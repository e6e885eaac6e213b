#include "quantity/print.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace coilbook {
namespace {

// The power of ten of the leading figure of `value` once it is rounded to `figures` figures.
int leading_power(double value, int figures) {
    const int power = static_cast<int>(std::floor(std::log10(std::abs(value))));
    const double rounded = std::abs(value) / std::pow(10.0, power);
    const double limit = 10.0 - 0.5 * std::pow(10.0, 1 - figures);
    return rounded >= limit ? power + 1 : power;
}

}  // namespace

std::string significant(double value, int figures) {
    if (!std::isfinite(value)) return "?";
    if (value == 0.0) return "0";
    const int decimals = figures - 1 - leading_power(value, figures);
    if (decimals >= 0) return fmt::format("{:.{}f}", value, decimals);
    const double step = std::pow(10.0, -decimals);
    return fmt::format("{:.0f}", std::round(value / step) * step);
}

std::string with_uncertainty(double value, double uncertainty) {
    if (!std::isfinite(uncertainty) || uncertainty <= 0.0) return significant(value, 4);
    const int decimals = std::max(0, 1 - leading_power(uncertainty, 2));
    return fmt::format("{:.{}f} ± {:.{}f}", value, decimals, uncertainty, decimals);
}

std::string exact(double value) {
    return fmt::format("{}", value);
}

}  // namespace coilbook
