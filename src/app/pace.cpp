#include "app/pace.h"

#include <algorithm>
#include <vector>

#include "store/confirmation_repository.h"

namespace coilbook::app {

std::optional<Duration> pace(Workshop& workshop) {
    std::vector<Instant> moments;
    for (const auto& each : workshop.catalogue().confirmations().current()) {
        moments.push_back(each.at);
    }
    std::ranges::sort(moments);
    std::vector<Duration> times;
    for (std::size_t i = moments.size(); i-- > 1 && times.size() < coils_of_the_pace;) {
        const auto between = moments[i] - moments[i - 1];
        if (between <= std::chrono::seconds{1} || between > longest_coil) continue;
        times.push_back(std::chrono::duration<double>(between).count() * second);
    }
    if (times.size() < 3) return std::nullopt;
    const auto middle = times.begin() + static_cast<std::ptrdiff_t>(times.size() / 2);
    std::ranges::nth_element(times, middle);
    return *middle;
}

}  // namespace coilbook::app
