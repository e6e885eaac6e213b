#include "bench/pages/library/class_words.h"

#include <fmt/format.h>

#include <cmath>

#include "base/text.h"
#include "bench/words.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::library_page {
namespace {

// "5.4 % heavier", "2.0 % lighter", "hardly heavier".
std::string by_how_much(double share, const char* more, const char* less) {
    const double percent = 100.0 * std::abs(share);
    if (percent < 0.05) return fmt::format("not {}", more);
    return fmt::format("{:.1f} % {}", percent, share > 0 ? more : less);
}

// "+5.4 %", and nothing where it is less than a tenth of a per cent.
std::string change(double share) {
    const double percent = 100.0 * share;
    if (std::abs(percent) < 0.05) return "the same";
    return fmt::format("{}{:.1f} %", percent > 0 ? "+" : "−", std::abs(percent));
}

std::string value(double number, const char* unit) {
    return significant(number, 3) + " " + unit;
}
std::string value_and_spread(double number, const char* unit, double sd_ln) {
    return fmt::format("{} {} ± {} %", significant(number, 3), unit, significant(100 * sd_ln, 2));
}

std::string sinks(Speed rate) {
    const double in_per_s = rate.in(inch_per_second);
    if (rate < Speed{}) return fmt::format("rises at {:.1f} in/s", -in_per_s);
    return fmt::format("sinks at {:.1f} in/s", in_per_s);
}

}  // namespace

std::string short_name_of(const ReferenceClass& reference) {
    std::string name = reference.name;
    if (reference.family == Family::matched_tip && name.ends_with(" tip")) {
        name.resize(name.size() - 4);
    }
    return name;
}

std::string kind_of(const ReferenceClass& reference) {
    std::string words = reference.family ? name_of(*reference.family) : "floating line";
    if (reference.family == Family::unlisted) return "a line of no kind that is listed";
    if (reference.line_size) words += " for a size " + name_of(*reference.line_size) + " line";
    if (reference.family && reference.density_grade) {
        const bool by_rate = reference.family == Family::level_line;
        words +=
            fmt::format(", {}{}", by_rate ? "sinks like " : "", name_of(*reference.density_grade));
    }
    return words;
}

std::string rate_words(Speed rate) {
    if (rate < Speed{}) return "rises";
    return fmt::format("{:.1f}", rate.in(inch_per_second));
}

std::string class_readout(const app::ClassSheet& sheet) {
    const auto& middle = sheet.middle;
    std::string words = fmt::format("{}\n{} gr/ft, {} mm, {} g/cm³\n{}", sheet.now.name,
                                    significant(middle.weight_per_length.in(grain_per_foot), 3),
                                    significant(middle.diameter.in(millimetre), 3),
                                    significant(middle.density.in(gram_per_cubic_centimetre), 3),
                                    sinks(middle.sink_rate));
    if (sheet.has_learned()) words += "\nlearned from " + coils(sheet.learned_from, "confirmed ");
    return words;
}

std::string coil_readout(const app::ConfirmedExample& example, const app::LineFigures& figures) {
    std::string words =
        fmt::format("{}{}, confirmed as {}\n{} gr/ft, {} mm, {} g/cm³", example.coil.code,
                    example.coil.is_retired ? " (retired)" : "", example.class_name,
                    significant(figures.weight_per_length.in(grain_per_foot), 4),
                    significant(figures.diameter.in(millimetre), 3),
                    significant(figures.density.in(gram_per_cubic_centimetre), 3));
    if (example.is_set_aside) {
        words += example.better_class.empty() ? "\nlooks wrong, set aside"
                                              : "\nlooks wrong, fits " + example.better_class;
    }
    return words;
}

std::vector<FigureRow> figures_of(const app::ClassSheet& sheet) {
    const auto& now = sheet.middle;
    const auto& before = sheet.middle_before;
    const auto weight = [](const app::LineFigures& figures) {
        return figures.weight_per_length.in(grain_per_foot);
    };
    const auto density = [](const app::LineFigures& figures) {
        return figures.density.in(gram_per_cubic_centimetre);
    };
    const auto diameter = [](const app::LineFigures& figures) {
        return figures.diameter.in(millimetre);
    };
    const auto rate = [](const app::LineFigures& figures) {
        return fmt::format("{:.2f} in/s", figures.sink_rate.in(inch_per_second));
    };
    if (!sheet.has_learned()) {
        return {{"Weight per foot",
                 value_and_spread(weight(before), "gr/ft", sheet.before.ln_grains_per_foot_sd),
                 {},
                 {}},
                {"Density",
                 value_and_spread(density(before), "g/cm³", sheet.before.ln_density_sd),
                 {},
                 {}},
                {"Diameter", value(diameter(before), "mm"), {}, {}},
                {"Sinks, still water", rate(before), {}, {}}};
    }
    return {{"Weight per foot", value(weight(before), "gr/ft"), value(weight(now), "gr/ft"),
             change(sheet.weight_moved_share())},
            {"Density", value(density(before), "g/cm³"), value(density(now), "g/cm³"),
             change(sheet.density_moved_share())},
            {"Diameter", value(diameter(before), "mm"), value(diameter(now), "mm"),
             change(now.diameter / before.diameter - 1.0)},
            {"Sinks, still water", rate(before), rate(now),
             change(now.sink_rate / before.sink_rate - 1.0)}};
}

std::vector<std::string> learning_of(const app::ClassSheet& sheet) {
    std::vector<std::string> words;
    if (!sheet.is_line()) {
        words.push_back(
            "It stands for everything that no other class is like, so it learns nothing.");
        return words;
    }
    if (sheet.has_learned()) {
        const double moved = sheet.weight_moved().in(grain_per_foot);
        words.push_back(
            fmt::format("It learned from {}: its middle moved by {}{} gr/ft, {}, and is {}.",
                        coils(sheet.learned_from, "confirmed "), moved < 0 ? "−" : "+",
                        significant(std::abs(moved), 2),
                        by_how_much(sheet.weight_moved_share(), "heavier", "lighter"),
                        by_how_much(sheet.density_moved_share(), "denser", "less dense")));
        words.push_back(fmt::format(
            "The next one is expected within {} % in weight, one standard deviation; as built in "
            "it was {} %.",
            significant(100 * sheet.now.line.ln_grains_per_foot_sd, 2),
            significant(100 * sheet.before.ln_grains_per_foot_sd, 2)));
    } else {
        words.push_back(
            "It has learned nothing yet: these are the built-in figures. Each coil that you "
            "confirm as it teaches it.");
    }
    if (sheet.silent > 0) {
        words.push_back(fmt::format("{} {} nothing: {} readings of weight and density are missing.",
                                    coils(sheet.silent, "confirmed "),
                                    sheet.silent == 1 ? "taught it" : "taught it",
                                    sheet.silent == 1 ? "its" : "their"));
    }
    if (sheet.set_aside > 0) {
        words.push_back(fmt::format(
            "{} {} set aside: nothing is learned from {}.", coils(sheet.set_aside, "confirmed "),
            sheet.set_aside == 1 ? "is" : "are", sheet.set_aside == 1 ? "it" : "them"));
    }
    return words;
}

std::string alike_words(const std::string& name, const std::vector<std::string>& alike) {
    if (alike.empty()) return {};
    std::vector<std::string> names{name};
    constexpr std::size_t most = 4;
    for (std::size_t at = 0; at < alike.size() && at < most; ++at) names.push_back(alike[at]);
    if (alike.size() > most) names.push_back(fmt::format("{} more", alike.size() - most));
    return listed(names) + " fish alike: " +
           (alike.size() == 1 ? "two names for one line in the water."
                              : "names for one line in the water.");
}

std::string remedy_for(std::size_t doubts, const std::string& better) {
    if (doubts == 0) return {};
    std::string words = doubts == 1 ? "Read it anew at the bench. If the readings are right, take "
                                      "back what it was confirmed as"
                                    : "Read them anew at the bench. If the readings are right, "
                                      "take back what they were confirmed as";
    words += better.empty() || better == "unlisted" ? " (Ctrl T)."
                                                    : " (Ctrl T) and confirm it as " + better + ".";
    if (doubts > 1) words += " The first one is taken back first.";
    return words;
}

}  // namespace coilbook::bench::library_page
