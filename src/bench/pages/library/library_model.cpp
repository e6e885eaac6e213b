#include "bench/pages/library/library_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/text.h"
#include "bench/line_picture.h"
#include "bench/number_words.h"
#include "bench/pages/library/class_words.h"
#include "bench/pages/library/library_map.h"
#include "bench/pages/library/library_task.h"
#include "bench/pages/library/score_words.h"
#include "identify/alike.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::library_page {
namespace {

std::string heading_of(const ReferenceClass& reference) {
    if (!reference.family) return "Others";
    switch (*reference.family) {
        case Family::level_line:
            return "Level lines";
        case Family::matched_tip:
            return "Matched tips";
        case Family::sinking_leader:
            return "Sinking leaders";
        case Family::unlisted:
            break;
    }
    return "Others";
}

ClassRow row_of(const app::ClassSheet& sheet, bool is_chosen, const Units& units) {
    const ReferenceClass& reference = sheet.now;
    const FamilySign sign = sign_of(reference);
    ClassRow row;
    row.name = reference.name;
    row.label = short_name_of(reference);
    row.mark = sign.mark;
    row.series = sign.series;
    row.is_chosen = is_chosen;
    if (reference.density_grade) row.grade = name_of(*reference.density_grade);
    if (sheet.is_line()) {
        row.weight =
            fmt::format("{:.{}f}", sheet.middle.weight_per_length.in(units.weight_per_length.size),
                        units.weight_per_length_decimals);
        row.density = fmt::format("{:.2f}", sheet.middle.density.in(units.density.size));
        row.rate = rate_words(sheet.middle.sink_rate, units);
    }
    if (reference.confirmed > 0) row.confirmed = std::to_string(reference.confirmed);
    if (sheet.set_aside > 0) row.set_aside = std::to_string(sheet.set_aside);
    row.whole = sheet.is_line() ? class_readout(sheet, units) : kind_of(reference);
    row.whole += "\n" + kind_of(reference);
    if (reference.confirmed > 0)
        row.whole += fmt::format("\nconfirmed coils: {}", reference.confirmed);
    if (sheet.set_aside > 0) row.whole += fmt::format("\nof these look wrong: {}", sheet.set_aside);
    return row;
}

ListView list_view(const Form& form, const Situation& situation,
                   const std::vector<std::size_t>& shown) {
    ListView list;
    std::string last;
    for (const std::size_t k : shown) {
        const auto& sheet = situation.classes[k];
        const std::string heading = heading_of(sheet.now);
        if (heading != last) {
            list.rows.emplace_back();
            list.rows.back().heading = heading;
            last = heading;
        }
        list.rows.push_back(row_of(sheet, sheet.now.name == form.chosen_class, situation.units));
    }
    list.units = {std::string(situation.units.weight_per_length.name),
                  std::string(situation.units.density.name),
                  std::string(situation.units.sink_rate.name)};
    list.help = {help_on(Number::class_weight, situation.units),
                 help_on(Number::class_density, situation.units),
                 help_on(Number::class_rate, situation.units),
                 help_on(Number::confirmed_coils, situation.units),
                 help_on(Number::set_aside_coils, situation.units)};
    const auto confirmed = situation.examples.size();
    list.summary = fmt::format("{} {}, {} confirmed {}", situation.classes.size(),
                               situation.classes.size() == 1 ? "class" : "classes", confirmed,
                               confirmed == 1 ? "coil" : "coils");
    if (situation.classes.empty()) {
        list.nothing = "The catalogue has no reference classes.";
    } else if (shown.empty()) {
        list.nothing = "No class here matches, and no confirmed coil.";
    } else if (!trimmed(form.filter).empty()) {
        list.note = shown.size() == 1 ? "1 class matches. Enter zooms to it."
                                      : fmt::format("{} classes match.", shown.size());
    }
    return list;
}

AboutView about_view(const app::ClassSheet& sheet, const Situation& situation) {
    const FamilySign sign = sign_of(sheet.now);
    AboutView about;
    about.title = sheet.now.name;
    about.kind = kind_of(sheet.now);
    about.mark = sign.mark;
    about.series = sign.series;
    about.has_learned = sheet.has_learned();
    if (sheet.is_line()) about.figures = figures_of(sheet, situation.units);
    about.learning = learning_of(sheet, situation.units);
    const auto doubts = doubts_of(situation, sheet.now.name);
    for (const auto* each : doubts) {
        about.doubts.push_back({each->coil.id, each->coil.code,
                                each->coil.code + ": " + each->doubt,
                                "Take back " + each->coil.code});
    }
    if (!doubts.empty()) about.remedy = remedy_for(doubts.size(), doubts.front()->better_class);
    ReferenceLibrary library;
    for (const auto& each : situation.classes) library.push_back(each.now);
    const auto index = static_cast<std::size_t>(&sheet - situation.classes.data());
    std::vector<std::string> alike;
    for (const std::size_t k : fishing_like(index, library)) alike.push_back(library[k].name);
    about.fishes_like = alike_words(sheet.now.name, alike);
    about.basis = basis_in(sheet.now.basis, situation.units);
    return about;
}

// Whether each of the words is somewhere in `all`, or begins one of the codes.
bool fits(const std::vector<std::string_view>& words, const std::string& all,
          const std::vector<std::string>& codes) {
    return std::ranges::all_of(words, [&](std::string_view word) {
        return all.find(word) != std::string::npos ||
               std::ranges::any_of(codes,
                                   [&](const std::string& code) { return code.starts_with(word); });
    });
}

}  // namespace

std::vector<std::size_t> matching(const std::string& filter, const Situation& situation) {
    const std::string typed = lower_ascii(filter);
    const auto words = pieces(typed, " ");
    std::map<std::string, std::vector<std::string>> codes;
    if (!words.empty()) {
        for (const auto& each : situation.examples) {
            codes[each.class_name].push_back(lower_ascii(each.coil.code));
        }
    }
    std::vector<std::size_t> found;
    for (std::size_t k = 0; k < situation.classes.size(); ++k) {
        const auto& reference = situation.classes[k].now;
        std::string all = reference.name + "\n" + kind_of(reference);
        if (reference.density_grade) all += "\n" + name_of(*reference.density_grade);
        if (fits(words, lower_ascii(all), codes[reference.name])) found.push_back(k);
    }
    return found;
}

const app::ClassSheet* sheet_named(const Situation& situation, const std::string& name) {
    const auto found = std::ranges::find_if(
        situation.classes, [&](const app::ClassSheet& each) { return each.now.name == name; });
    return found == situation.classes.end() ? nullptr : &*found;
}

std::vector<const app::ConfirmedExample*> doubts_of(const Situation& situation,
                                                    const std::string& class_name) {
    std::vector<const app::ConfirmedExample*> doubts;
    for (const auto& each : situation.examples) {
        if (each.is_set_aside && each.class_name == class_name) doubts.push_back(&each);
    }
    std::ranges::stable_sort(doubts, {}, &app::ConfirmedExample::chance);
    return doubts;
}

View view_of(const Form& form, const Situation& situation) {
    View view;
    const auto shown = matching(form.filter, situation);
    view.list = list_view(form, situation, shown);
    view.map = situation.ground;
    if (!form.shows_coils) view.map.points.clear();
    if (!form.shows_curves) view.map.curves.clear();
    view.map.ellipses = ellipses_of(situation.classes, shown, form.chosen_class, situation.units);
    view.score = score_view(situation.score);
    for (auto& row : view.score.rows) row.help = help_on(Number::score, situation.units);
    view.has_doubts = std::ranges::any_of(situation.examples, &app::ConfirmedExample::is_set_aside);
    view.failure = situation.failure;
    view.message = situation.message;
    const auto* sheet = sheet_named(situation, form.chosen_class);
    if (sheet == nullptr) return view;
    view.title = "Library: " + sheet->now.name;
    view.about = about_view(*sheet, situation);
    view.close_up = close_up_of(*sheet, situation.units);
    if (sheet->has_learned() && sheet->is_line()) {
        const FamilySign sign = sign_of(sheet->now);
        view.map.legend.push_back({.mark = Mark::ring,
                                   .series = sign.series,
                                   .stroke = Stroke::dash_dotted,
                                   .name = "before it learned",
                                   .sign = PlotLegend::Sign::both});
    }
    view.is_own = sheet->is_line();
    view.task = task_view(form, situation);
    if (view.task) add_plan(view.map, form, situation);
    if (!view.about->doubts.empty()) view.doubtful = view.about->doubts.front().coil;
    return view;
}

}  // namespace coilbook::bench::library_page
