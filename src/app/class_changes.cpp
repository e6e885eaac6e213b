#include "app/class_changes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "app/coil_changes.h"
#include "app/confirmed_coils.h"
#include "app/groups.h"
#include "base/text.h"
#include "identify/evidence.h"
#include "identify/facts.h"
#include "quantity/parse.h"
#include "quantity/print.h"
#include "store/class_repository.h"
#include "store/confirmation_repository.h"
#include "store/outing_repository.h"

namespace coilbook::app {
namespace {

using Place = ReferenceLibrary::iterator;

constexpr std::size_t longest_name = 60;

template <class Facet>
std::string text_of(const std::optional<Facet>& facet) {
    return facet ? name_of(*facet) : std::string();
}

std::string six(double number) {
    return fmt::format("{:.6g}", number);
}

ClassWords words_of(const ReferenceClass& known, const Units& units) {
    const auto& line = known.line;
    const auto weight = std::exp(line.ln_grains_per_foot_mean) * grain_per_foot;
    return {.name = known.name,
            .family = text_of(known.family),
            .grain_class = text_of(known.grain_class),
            .density_grade = text_of(known.density_grade),
            .line_size = text_of(known.line_size),
            .grains_per_foot =
                units.is_metric
                    ? fmt::format("{:.4g}", weight.in(grams_and_metres.weight_per_length.size))
                    : six(weight.in(grain_per_foot)),
            .grains_per_foot_spread = six(100.0 * line.ln_grains_per_foot_sd),
            .density = six(std::exp(line.ln_density_mean)),
            .density_spread = six(100.0 * line.ln_density_sd),
            .weight = six(known.weight),
            .units = units};
}

// The class of that name, that a person may change.
Result<Place> own_class(ReferenceLibrary& library, std::string_view name) {
    const auto found = std::ranges::find(library, name, &ReferenceClass::name);
    if (found == library.end()) {
        return problem("class", "the library has no class " + coilbook::quoted(name),
                       "a name that 'coilbook classes' shows");
    }
    if (found->family == Family::unlisted) {
        return problem("class", coilbook::quoted(name) + " stands for what no class is",
                       "another class");
    }
    return found;
}

Result<void> check_name(const ReferenceLibrary& library, std::string_view name) {
    const bool is_one = !trimmed(name).empty() && trimmed(name) == name && is_plain_text(name) &&
                        name.size() <= longest_name;
    if (!is_one) {
        return problem("name", coilbook::quoted(name) + " cannot be a class's name",
                       "a few words without blanks around them");
    }
    if (std::ranges::find(library, name, &ReferenceClass::name) != library.end()) {
        return problem("name", "there is a class " + coilbook::quoted(name) + " already",
                       "another name");
    }
    return {};
}

// An outing to come that asks for the class by its name.
Result<void> check_not_promised(Workshop& workshop, const std::string& name) {
    auto& outings = workshop.catalogue().outings();
    const auto today = std::chrono::floor<std::chrono::days>(workshop.surroundings().now());
    for (const auto day : outings.days()) {
        if (day < today) break;  // the last day comes first
        for (const auto& promise : outings.promises_on(day)) {
            const auto* need = std::get_if<ClassNeed>(&promise.what);
            if (need == nullptr || need->class_name != name) continue;
            return problem("class",
                           "an outing on " + day_text(day) + " asks for " + coilbook::quoted(name),
                           "what it needs under another name, first");
        }
    }
    return {};
}

struct Range {
    const char* field;
    double above, up_to;
    std::string unit;
    std::function<Result<double>(std::string_view)> number;  // in that unit
};
Result<double> plain_number(std::string_view text) {
    return parse_number(trimmed(text));
}
Range range_of_weights(const Units& units) {
    const auto unit = units.weight_per_length;
    const auto in_unit = [unit](double gr_per_ft) {
        return (gr_per_ft * grain_per_foot).in(unit.size);
    };
    return {"grains_per_foot", in_unit(0.1), in_unit(1000.0), " " + std::string(unit.name),
            [unit](std::string_view text) {
                return parse_linear_density(text, {'.', unit.name}).map([&](const auto& stated) {
                    return stated.value.in(unit.size);
                });
            }};
}
Range range_of_densities() {
    return {"density", 0.3, 25.0, " g/cm3", [](std::string_view text) {
                return parse_density(text, {'.', "g/cm3"}).map([](const auto& stated) {
                    return stated.value.in(gram_per_cubic_centimetre);
                });
            }};
}
// The number in `text`; what it was, exactly, where the words are those that tell of it.
Result<double> number_in(const std::string& text, const std::string& words_before, double before,
                         const Range& range) {
    if (text == words_before) return before;
    const auto number = range.number(text);
    if (!number || !(*number > range.above) || *number > range.up_to) {
        return problem(range.field, coilbook::quoted(text) + " is not accepted",
                       fmt::format("a number above {:.4g} and up to {:.4g}{}", range.above,
                                   range.up_to, range.unit));
    }
    return *number;
}

template <class Facet, class FromName>
Result<void> put_facet(std::optional<Facet>& facet, const std::string& text, FromName from_name) {
    facet.reset();
    if (trimmed(text).empty()) return {};
    auto found = from_name(trimmed(text));
    if (!found) return tl::unexpected(found.error());
    facet = *found;
    return {};
}

// `known` with what the words say; the name is not looked at.
Result<ReferenceClass> with_words(ReferenceClass known, const ClassWords& words) {
    const auto before = words_of(known, words.units);
    const double unit = words.units.weight_per_length.size / grain_per_foot;
    auto family = family_of_class(std::string(trimmed(words.family)));
    if (!family) return tl::unexpected(family.error());
    known.family = *family;
    if (auto put = put_facet(known.grain_class, words.grain_class, grain_class_from); !put) {
        return tl::unexpected(put.error());
    }
    if (auto put = put_facet(known.density_grade, words.density_grade, density_grade_from); !put) {
        return tl::unexpected(put.error());
    }
    if (auto put = put_facet(known.line_size, words.line_size, line_size_from); !put) {
        return tl::unexpected(put.error());
    }
    struct Figure {
        double& figure;
        const std::string &text, &words_before;
        Range range;
        std::function<double(double)> stored, shown;
    };
    const auto ln = [](double value) { return std::log(value); };
    const auto exp = [](double value) { return std::exp(value); };
    const auto part = [](double value) { return value / 100.0; };
    const auto percent = [](double value) { return value * 100.0; };
    const auto same = [](double value) { return value; };
    auto& line = known.line;
    const std::vector<Figure> figures{
        {line.ln_grains_per_foot_mean, words.grains_per_foot, before.grains_per_foot,
         range_of_weights(words.units), [unit](double number) { return std::log(number * unit); },
         [unit](double stored) { return std::exp(stored) / unit; }},
        {line.ln_grains_per_foot_sd,
         words.grains_per_foot_spread,
         before.grains_per_foot_spread,
         {"grains_per_foot_spread", 0.0, 100.0, " %", plain_number},
         part,
         percent},
        {line.ln_density_mean, words.density, before.density, range_of_densities(), ln, exp},
        {line.ln_density_sd,
         words.density_spread,
         before.density_spread,
         {"density_spread", 0.0, 100.0, " %", plain_number},
         part,
         percent},
        {known.weight,
         words.weight,
         before.weight,
         {"weight", 0.0, 1000.0, "", plain_number},
         same,
         same}};
    for (const auto& each : figures) {
        if (each.text == each.words_before) continue;
        const auto number =
            number_in(each.text, each.words_before, each.shown(each.figure), each.range);
        if (!number) return tl::unexpected(number.error());
        each.figure = each.stored(*number);
    }
    return known;
}

// "by the guide on 2026-11-25".
std::string by_whom(const Workshop& workshop) {
    const auto& who = workshop.surroundings().who;
    const auto day = to_text(workshop.surroundings().now()).substr(0, 10);
    return (who.empty() ? "" : "by " + who + " ") + "on " + day;
}

// The coils that are confirmed as that class.
std::vector<SaidCoil> coils_said(Workshop& workshop, std::string_view name) {
    auto coils = confirmed_coils(workshop);
    std::erase_if(coils, [&](const SaidCoil& each) { return each.class_name != name; });
    return coils;
}

// What each coil of `moved` is confirmed as from now on; an empty name takes its confirmation back.
struct Moved {
    Coil coil;
    std::string to;
};

Result<void> put_and_move(Workshop& workshop, const std::string& what,
                          const ReferenceLibrary& library, const std::vector<Moved>& moved) {
    std::vector<CoilAndClass> confirmed;
    for (const auto& each : moved) {
        if (!each.to.empty()) confirmed.push_back({each.coil, each.to});
    }
    const auto many = ManyConfirmations::prepared(workshop, confirmed);
    if (!many) return tl::unexpected(many.error());
    auto& catalogue = workshop.catalogue();
    const auto done = catalogue.act(workshop.note(what), [&](store::Act& act) -> Result<void> {
        for (const auto& each : moved) {
            if (!each.to.empty()) continue;
            const auto taken = catalogue.confirmations().add(
                act, {workshop.new_id<Confirmation>(), each.coil.id, std::nullopt,
                      workshop.surroundings().who, workshop.surroundings().now(), what});
            if (!taken) return taken;
        }
        catalogue.classes().put_library(act, library);
        return many->add(workshop, act);
    });
    if (done) workshop.refresh();
    return done;
}

Place place_of_unlisted(ReferenceLibrary& library) {
    return std::ranges::find(library, std::optional{Family::unlisted}, &ReferenceClass::family);
}

// Splitting -----------------------------------------------------------------------------------

struct Placed {
    SaidCoil said;
    double grains_per_foot, density;

    [[nodiscard]] double value(CutBy by) const {
        return by == CutBy::weight ? grains_per_foot : density;
    }
};

// The middle of the widest gap, in the logarithm, and how wide it is.
struct Gap {
    double at = 0.0, width = 0.0;
};
Gap widest_gap(const std::vector<Placed>& coils, CutBy by) {
    std::vector<double> values;
    for (const auto& each : coils) values.push_back(each.value(by));
    std::ranges::sort(values);
    Gap widest;
    for (std::size_t at = 1; at < values.size(); ++at) {
        const double width = std::log(values[at] / values[at - 1]);
        if (width > widest.width) widest = {std::sqrt(values[at] * values[at - 1]), width};
    }
    return widest;
}

Cut cut_for(const std::vector<Placed>& coils) {
    const auto weight = widest_gap(coils, CutBy::weight);
    const auto density = widest_gap(coils, CutBy::density);
    return weight.width >= density.width ? Cut{CutBy::weight, weight.at}
                                         : Cut{CutBy::density, density.at};
}

Result<Half> half_of(Workshop& workshop, const ReferenceClass& old, const std::string& name,
                     const std::vector<const SaidCoil*>& coils, std::size_t all,
                     const ReferenceLibrary& library) {
    std::vector<BinCoilLine> lines;
    Half half;
    for (const auto* each : coils) {
        const auto evidence = evidence_of(each->readings, workshop.instruments());
        if (!evidence) return tl::unexpected(evidence.error());
        lines.push_back({each->coil.code, information_of(*evidence), each->readings.tint,
                         each->readings.taper});
        half.codes.push_back(each->coil.code);
    }
    auto made = class_from_group(name, old.family, one_group_of(lines), lines, library);
    if (!made) return tl::unexpected(made.error());
    made->grain_class = old.grain_class;
    made->density_grade = old.density_grade;
    made->line_size = old.line_size;
    made->usual = old.usual;
    // Together as common as the old one was.
    made->weight = old.weight * static_cast<double>(coils.size()) / static_cast<double>(all);
    half.made = std::move(*made);
    return half;
}

}  // namespace

Result<ClassWords> words_of_class(Workshop& workshop, std::string_view name, const Units& units) {
    auto library = workshop.catalogue().classes().library();
    const auto found = own_class(library, name);
    if (!found) return tl::unexpected(found.error());
    return words_of(**found, units);
}

Result<void> change_class(Workshop& workshop, std::string_view name, const ClassWords& words) {
    auto library = workshop.catalogue().classes().library();
    const auto found = own_class(library, name);
    if (!found) return tl::unexpected(found.error());
    const std::string old_name((*found)->name);
    auto changed = with_words(**found, words);
    if (!changed) return tl::unexpected(changed.error());
    std::vector<Moved> moved;
    if (words.name != old_name) {
        if (const auto free = check_name(library, words.name); !free) return free;
        if (const auto kept = check_not_promised(workshop, old_name); !kept) return kept;
        changed->name = words.name;
        for (auto& each : coils_said(workshop, old_name)) {
            moved.push_back({std::move(each.coil), words.name});
        }
    }
    if (*changed == **found) return {};
    changed->basis +=
        (changed->basis.empty() ? "" : " ") + std::string("Changed ") + by_whom(workshop) + ".";
    **found = *changed;
    const auto what =
        "change the class " + old_name + (words.name == old_name ? "" : ", now " + words.name);
    return put_and_move(workshop, what, library, moved);
}

Result<void> add_class(Workshop& workshop, const ClassWords& words) {
    auto library = workshop.catalogue().classes().library();
    if (const auto free = check_name(library, words.name); !free) return free;
    ReferenceClass blank{.name = words.name,
                         .family = {},
                         .grain_class = {},
                         .density_grade = {},
                         .line_size = {},
                         .weight = 1.0,
                         .line = {0.0, 1.0, 0.0, 1.0, 0.0},  // in range, and said anew
                         .tapered = 0.5,
                         .tints = {0.2, 0.2, 0.2, 0.2, 0.2},
                         .usual = {},
                         .basis = "Added " + by_whom(workshop) + "."};
    auto made = with_words(blank, words);
    if (!made) return tl::unexpected(made.error());
    library.insert(place_of_unlisted(library), std::move(*made));
    return put_and_move(workshop, "add the class " + words.name, library, {});
}

HalfNames half_names(std::string_view name, CutBy by) {
    const std::string old(name);
    if (by == CutBy::weight) return {old + " light", old + " heavy"};
    return {old + " less dense", old + " denser"};
}

Result<Split> planned_split(Workshop& workshop, std::string_view name,
                            const std::optional<Cut>& wanted, std::string_view low_name,
                            std::string_view high_name) {
    auto library = workshop.catalogue().classes().library();
    const auto found = own_class(library, name);
    if (!found) return tl::unexpected(found.error());
    const auto said = coils_said(workshop, name);
    std::vector<Placed> placed;
    Split split;
    for (const auto& each : said) {
        const auto evidence = evidence_of(each.readings, workshop.instruments());
        const auto line =
            evidence ? fit_facts(*evidence, fresh_water_at_10_C()).facts.line : std::nullopt;
        if (!line) {
            split.untold.push_back(each.coil.code);
            continue;
        }
        placed.push_back(
            {each, std::exp(line->ln_grains_per_foot_mean), std::exp(line->ln_density_mean)});
    }
    split.cut = wanted.value_or(cut_for(placed));
    std::vector<const SaidCoil*> low, high;
    for (const auto& each : placed) {
        (each.value(split.cut.by) < split.cut.at ? low : high).push_back(&each.said);
    }
    if (low.empty() || high.empty()) {
        return problem("at",
                       fmt::format("of the {} confirmed coils of {} that tell weight and density "
                                   "none would be on one side",
                                   placed.size(), coilbook::quoted(name)),
                       "a value between those of its coils, of which there are two at least");
    }
    if (low_name == high_name) {
        return problem("name", "both halves cannot be called " + coilbook::quoted(low_name),
                       "two names");
    }
    const ReferenceClass old = **found;
    library.erase(*found);
    auto low_half = half_of(workshop, old, std::string(low_name), low, placed.size(), library);
    if (!low_half) return tl::unexpected(low_half.error());
    auto high_half = half_of(workshop, old, std::string(high_name), high, placed.size(), library);
    if (!high_half) return tl::unexpected(high_half.error());
    split.low = std::move(*low_half);
    split.high = std::move(*high_half);
    return split;
}

Result<void> split_class(Workshop& workshop, std::string_view name, const Split& split) {
    // Planned anew: what the catalogue holds may have changed since somebody looked at the plan.
    const auto now =
        planned_split(workshop, name, split.cut, split.low.made.name, split.high.made.name);
    if (!now) return tl::unexpected(now.error());
    auto library = workshop.catalogue().classes().library();
    const auto found = own_class(library, name);
    if (!found) return tl::unexpected(found.error());
    const std::string old_name((*found)->name);
    for (const auto& made : {now->low.made.name, now->high.made.name}) {
        if (made == old_name) continue;  // a half may keep the name
        if (const auto free = check_name(library, made); !free) return free;
    }
    const bool keeps_name = now->low.made.name == old_name || now->high.made.name == old_name;
    if (!keeps_name) {
        if (const auto kept = check_not_promised(workshop, old_name); !kept) return kept;
    }
    auto place = library.erase(*found);
    place = library.insert(place, now->high.made);
    library.insert(place, now->low.made);
    std::vector<Moved> moved;
    for (auto& each : coils_said(workshop, old_name)) {
        const auto is_in = [&](const std::vector<std::string>& codes) {
            return std::ranges::find(codes, each.coil.code) != codes.end();
        };
        const auto to = is_in(now->low.codes)    ? now->low.made.name
                        : is_in(now->high.codes) ? now->high.made.name
                                                 : std::string();
        if (to != old_name) moved.push_back({std::move(each.coil), to});
    }
    return put_and_move(workshop,
                        fmt::format("split the class {} into {} and {}", old_name,
                                    now->low.made.name, now->high.made.name),
                        library, moved);
}

Result<ReferenceClass> planned_join(Workshop& workshop, std::string_view kept,
                                    std::string_view other) {
    auto library = workshop.catalogue().classes().library();
    const auto one = own_class(library, kept);
    if (!one) return tl::unexpected(one.error());
    const auto two = own_class(library, other);
    if (!two) return tl::unexpected(two.error());
    if (*one == *two) {
        return problem("class", "a class cannot be joined with itself", "two classes");
    }
    ReferenceClass joined = **one;
    const auto& away = **two;
    joined.weight += away.weight;
    const double share = away.weight / joined.weight;
    const auto first = gaussian_of(joined.line), second = gaussian_of(away.line);
    // A mixture's mean, and its covariance: within each, and between the two.
    const Eigen::Vector2d apart = second.mean - first.mean;
    joined.line = distribution_of(
        {first.mean + share * apart, (1.0 - share) * first.covariance + share * second.covariance +
                                         share * (1.0 - share) * apart * apart.transpose()});
    joined.tapered += share * (away.tapered - joined.tapered);
    for (std::size_t at = 0; at < joined.tints.size(); ++at) {
        joined.tints[at] += share * (away.tints[at] - joined.tints[at]);
    }
    joined.basis += (joined.basis.empty() ? "" : " ") + std::string("Joined with ") + away.name +
                    " " + by_whom(workshop) + ".";
    return joined;
}

Result<void> join_classes(Workshop& workshop, std::string_view kept, std::string_view other) {
    const auto joined = planned_join(workshop, kept, other);
    if (!joined) return tl::unexpected(joined.error());
    const std::string away(other);
    if (const auto free = check_not_promised(workshop, away); !free) return free;
    auto library = workshop.catalogue().classes().library();
    *std::ranges::find(library, joined->name, &ReferenceClass::name) = *joined;
    std::erase_if(library, [&](const ReferenceClass& each) { return each.name == away; });
    std::vector<Moved> moved;
    for (auto& each : coils_said(workshop, away)) {
        moved.push_back({std::move(each.coil), joined->name});
    }
    return put_and_move(workshop, "join the class " + away + " with " + joined->name, library,
                        moved);
}

}  // namespace coilbook::app
