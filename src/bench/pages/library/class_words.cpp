// What gcc 12 says of std::regex with sanitizers is not so (its bug 105562).
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif

#include "bench/pages/library/class_words.h"

#include <fmt/format.h>

#include <cmath>
#include <iterator>
#include <regex>

#include "base/text.h"
#include "bench/number_words.h"
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

// How much a figure in the library's words is in another unit, and what that is called.
struct Said {
    double factor = 1;
    std::string_view name;
};
Said said_in(const std::string& unit, const Units& units) {
    if (unit == "in/s") return {inch_per_second / units.sink_rate.size, units.sink_rate.name};
    if (unit == "ft") return {foot / units.length.size, units.length.name};
    return {grain / units.weight.size, units.weight.name};
}

// "6 to 7 in/s" for what "type 6 is", from a match of number, word between, number, unit.
std::string reworded(const std::smatch& figure, const Units& units) {
    const auto [factor, name] = said_in(figure[4], units);
    std::string words = significant(factor * std::stod(figure[1]), 3);
    if (figure[2].matched) {
        words += figure[2].str() + significant(factor * std::stod(figure[3]), 3);
    }
    return words + " " + std::string(name);
}

template <class Q>
std::string value_and_spread(Q value, NamedUnit<Q> unit, double sd_ln) {
    return fmt::format("{} ± {} %", in_unit(value, unit, 3), significant(100 * sd_ln, 2));
}

std::string sinks(Speed rate, const Units& units) {
    const auto [name, size] = units.sink_rate;
    if (rate < Speed{}) return fmt::format("rises at {:.1f} {}", -rate.in(size), name);
    return fmt::format("sinks at {:.1f} {}", rate.in(size), name);
}

std::string figures_in_words(const app::LineFigures& line, int of_weight, const Units& units) {
    return fmt::format(
        "{}, {}, {}", in_unit(line.weight_per_length, units.weight_per_length, of_weight),
        in_unit(line.diameter, units.diameter, 3), in_unit(line.density, units.density, 3));
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

std::string rate_words(Speed rate, const Units& units) {
    if (rate < Speed{}) return "rises";
    return fmt::format("{:.1f}", rate.in(units.sink_rate.size));
}

std::string class_readout(const app::ClassSheet& sheet, const Units& units) {
    const auto& middle = sheet.middle;
    std::string words =
        fmt::format("{}\n{}\n{}", sheet.now.name, figures_in_words(middle, 3, units),
                    sinks(middle.sink_rate, units));
    if (sheet.has_learned()) words += "\nlearned from " + coils(sheet.learned_from, "confirmed ");
    return words;
}

std::string coil_readout(const app::ConfirmedExample& example, const app::LineFigures& figures,
                         const Units& units) {
    std::string words = fmt::format("{}{}, confirmed as {}\n{}", example.coil.code,
                                    example.coil.is_retired ? " (retired)" : "", example.class_name,
                                    figures_in_words(figures, 4, units));
    if (example.is_set_aside) {
        words += example.better_class.empty() ? "\nlooks wrong, set aside"
                                              : "\nlooks wrong, fits " + example.better_class;
    }
    return words;
}

std::vector<FigureRow> figures_of(const app::ClassSheet& sheet, const Units& units) {
    const auto& now = sheet.middle;
    const auto& before = sheet.middle_before;
    const auto weight = [&](const app::LineFigures& figures) {
        return in_unit(figures.weight_per_length, units.weight_per_length, 3);
    };
    const auto density = [&](const app::LineFigures& figures) {
        return in_unit(figures.density, units.density, 3);
    };
    const auto diameter = [&](const app::LineFigures& figures) {
        return in_unit(figures.diameter, units.diameter, 3);
    };
    const auto rate = [&](const app::LineFigures& figures) {
        return fmt::format("{:.2f} {}", figures.sink_rate.in(units.sink_rate.size),
                           units.sink_rate.name);
    };
    const auto row = [&](Number number, std::string_view name, std::string built_in,
                         std::string later = {}, std::string moved = {}) {
        return FigureRow{std::string(name), std::move(built_in), std::move(later), std::move(moved),
                         help_on(number, units)};
    };
    const auto of_weight = units.weight_per_length_name;
    if (!sheet.has_learned()) {
        return {row(Number::class_weight, of_weight,
                    value_and_spread(before.weight_per_length, units.weight_per_length,
                                     sheet.before.ln_grains_per_foot_sd)),
                row(Number::class_density, "Density",
                    value_and_spread(before.density, units.density, sheet.before.ln_density_sd)),
                row(Number::class_diameter, "Diameter", diameter(before)),
                row(Number::class_rate, "Sinks, still water", rate(before))};
    }
    return {row(Number::class_weight, of_weight, weight(before), weight(now),
                change(sheet.weight_moved_share())),
            row(Number::class_density, "Density", density(before), density(now),
                change(sheet.density_moved_share())),
            row(Number::class_diameter, "Diameter", diameter(before), diameter(now),
                change(now.diameter / before.diameter - 1.0)),
            row(Number::class_rate, "Sinks, still water", rate(before), rate(now),
                change(now.sink_rate / before.sink_rate - 1.0))};
}

std::vector<std::string> learning_of(const app::ClassSheet& sheet, const Units& units) {
    std::vector<std::string> words;
    if (!sheet.is_line()) {
        words.push_back(
            "It stands for everything that no other class is like, so it learns nothing.");
        return words;
    }
    if (sheet.has_learned()) {
        const auto moved = sheet.weight_moved();
        const bool is_less = moved < LinearDensity{};
        words.push_back(
            fmt::format("It learned from {}: its middle moved by {}{}, {}, and is {}.",
                        coils(sheet.learned_from, "confirmed "), is_less ? "−" : "+",
                        in_unit(is_less ? -moved : moved, units.weight_per_length, 2),
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
        words.push_back(
            fmt::format("{} taught it nothing: {} readings of weight and density are missing.",
                        coils(sheet.silent, "confirmed "), sheet.silent == 1 ? "its" : "their"));
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

std::string basis_in(const std::string& basis, const Units& units) {
    if (!units.is_metric) return basis;
    // Rates that stand in the built-in library without their unit, and its weights.
    static const std::regex bare_rate(R"((about|says) (\d[\d.]*(?: to \d[\d.]*)?)(?=[:)]))");
    static const std::regex bare_weight(R"((T-\d+ is \d+) by name)");
    static const std::regex heading("^Grains per foot:");
    static const std::regex figure(
        R"((\d[\d.]*)(?:( to | and | or )(\d[\d.]*))? (in/s|ft|grains)\b)");
    auto words = std::regex_replace(basis, bare_rate, "$1 $2 in/s");
    words = std::regex_replace(words, bare_weight, "$1 grains-a-foot by name");
    words = std::regex_replace(words, heading, "Weight per metre:");
    std::string out;
    auto from = words.cbegin();
    for (std::sregex_iterator at(words.cbegin(), words.cend(), figure), end; at != end; ++at) {
        const bool is_a_name = at->suffix().str().starts_with("-a-foot");
        out.append(from, (*at)[0].first);
        out += is_a_name ? at->str() : reworded(*at, units);
        from = (*at)[0].second;
    }
    out.append(from, words.cend());
    return std::regex_replace(out, std::regex("grains-a-foot"), "grains a foot");
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
