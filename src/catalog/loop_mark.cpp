#include "catalog/loop_mark.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

namespace coilbook {
namespace {

constexpr int most_steps = 7;
constexpr double first_step = 8.0;  // gr/ft, the middle of step 1
constexpr double step_width = 3.0;

std::vector<PenBand> counting(int number) {
    assert(number >= 0);
    if (number == 0) return {PenBand::spot};
    std::vector<PenBand> bands(static_cast<std::size_t>(number / 3), PenBand::wide);
    bands.insert(bands.end(), static_cast<std::size_t>(number % 3), PenBand::narrow);
    return bands;
}

std::vector<PenBand> group_of(DensityGrade grade) {
    if (grade.floats()) return {PenBand::spot, PenBand::spot};
    return counting(grade.rank());
}

// What a group counts; nothing where it mixes spots and bands, or has narrow before wide ones.
std::optional<int> count_of(const std::vector<PenBand>& group) {
    const auto spots = std::ranges::count(group, PenBand::spot);
    if (spots > 0) {
        if (static_cast<std::size_t>(spots) != group.size() || spots > 2) return std::nullopt;
        return spots == 1 ? 0 : -1;
    }
    int count = 0;
    bool had_narrow = false;
    for (const auto band : group) {
        if (band == PenBand::wide && had_narrow) return std::nullopt;
        had_narrow = had_narrow || band == PenBand::narrow;
        count += band == PenBand::wide ? 3 : 1;
    }
    return group.empty() ? std::nullopt : std::optional(count);
}

Length width_of(PenBand band) {
    return band == PenBand::wide ? wide_band : narrow_band;
}

std::string words_of(const std::vector<PenBand>& group) {
    std::string words;
    for (const auto band : group) {
        if (!words.empty()) words += ' ';
        words += band == PenBand::wide ? "wide" : band == PenBand::narrow ? "narrow" : "spot";
    }
    return words;
}

}  // namespace

int weight_step(LinearDensity weight) {
    const double steps = (weight.in(grain_per_foot)-first_step) / step_width + 1.5;
    return static_cast<int>(std::clamp(std::floor(steps), 0.0, static_cast<double>(most_steps)));
}

std::string weight_range(int step) {
    const double low = first_step + step_width * (step - 1.5);
    if (step == 0) return fmt::format("below {} gr/ft", low + step_width);
    if (step == most_steps) return fmt::format("{} gr/ft and more", low);
    return fmt::format("{} to {} gr/ft", low, low + step_width);
}

std::optional<LoopMark> loop_mark(const std::optional<DensityGrade>& grade,
                                  const std::optional<LinearDensity>& weight) {
    if (!grade || !weight || !(weight->si() > 0)) return std::nullopt;
    return LoopMark{*grade, weight_step(*weight)};
}

std::vector<PlacedBand> bands_of(const LoopMark& mark) {
    std::vector<PlacedBand> placed;
    Length at{};
    const auto place = [&](const std::vector<PenBand>& group) {
        for (const auto band : group) {
            placed.push_back({band, at, width_of(band)});
            at = at + width_of(band) + band_gap;
        }
    };
    place(group_of(mark.grade));
    at = at - band_gap + group_gap;
    place(counting(mark.weight_step));
    return placed;
}

Length length_of(const std::vector<PlacedBand>& bands) {
    if (bands.empty()) return {};
    return bands.back().start + bands.back().width - bands.front().start;
}

std::optional<LoopMark> read_mark(const std::vector<PlacedBand>& bands) {
    std::vector<std::vector<PenBand>> groups(1);
    for (std::size_t at = 0; at < bands.size(); ++at) {
        if (at > 0) {
            const auto gap = bands[at].start - bands[at - 1].start - bands[at - 1].width;
            if (gap > (band_gap + group_gap) / 2.0) groups.emplace_back();
        }
        groups.back().push_back(bands[at].band);
    }
    if (groups.size() != 2) return std::nullopt;
    const auto grade = count_of(groups[0]);
    const auto weight = count_of(groups[1]);
    if (!grade || !weight || *grade > 9 || *weight < 0 || *weight > most_steps) return std::nullopt;
    const auto named = *grade < 0    ? DensityGrade::floating()
                       : *grade == 0 ? DensityGrade::intermediate()
                                     : DensityGrade::type(*grade);
    return LoopMark{named, *weight};
}

std::string in_words(const LoopMark& mark) {
    return words_of(group_of(mark.grade)) + ", gap, " + words_of(counting(mark.weight_step));
}

}  // namespace coilbook
