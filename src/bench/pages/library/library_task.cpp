#include "bench/pages/library/library_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "bench/line_picture.h"
#include "bench/words.h"
#include "line/curves.h"
#include "quantity/parse.h"
#include "quantity/print.h"

namespace coilbook::bench::library_page {
namespace {

const std::vector<TaskField> class_fields{
    {"name", "Name", "", "green box line", {}},
    {"family", "Family", "", "", {"none", "level line", "matched tip", "sinking leader"}, 3},
    {"grain_class", "Grain class", "", "T-11, or empty", {}},
    {"density_grade", "Density grade", "", "type 6, or empty", {}},
    {"line_size", "Line size", "", "8, or empty", {}},
    {"grains_per_foot", "Weight per foot", "gr/ft", "11", {}},
    {"grains_per_foot_spread", "Give or take", "%", "3", {}},
    {"density", "Density", "g/cm³", "4.2", {}},
    {"density_spread", "Give or take", "%", "8", {}},
    {"weight", "How common", "", "1", {}}};
const std::vector<TaskField> split_fields{{"by", "Cut by", "", "", {"weight", "density"}, 2},
                                          {"at", "Cut at", "", "11.3", {}, 2},
                                          {"name", "The lighter, or less dense", "", "", {}, 3},
                                          {"name", "The heavier, or denser", "", "", {}, 3}};
const std::vector<TaskField> join_fields{
    {"class", "Joined with", "", "click a class, or type its name", {}, 3}};
const std::vector<TaskField> no_fields;

std::string codes_in_words(const std::vector<std::string>& codes) {
    constexpr std::size_t most = 6;
    auto shown = codes;
    if (shown.size() > most) {
        shown.resize(most - 1);
        shown.push_back(fmt::format("{} more", codes.size() - (most - 1)));
    }
    return listed(shown);
}

std::string figures_in_words(const LineDistribution& line, const Units& units) {
    const auto weight = std::exp(line.ln_grains_per_foot_mean) * grain_per_foot;
    const auto density = std::exp(line.ln_density_mean) * gram_per_cubic_centimetre;
    return in_unit_with_uncertainty(weight, weight * line.ln_grains_per_foot_sd,
                                    units.weight_per_length) +
           ", " + in_unit_with_uncertainty(density, density * line.ln_density_sd, units.density);
}

// Where it cuts, as a number in the unit beside its field, and that unit.
std::string_view unit_of(const app::Cut& cut, const Units& units) {
    return cut.by == app::CutBy::weight ? units.weight_per_length.name : units.density.name;
}
std::string number_of(const app::Cut& cut, const Units& units) {
    return cut.by == app::CutBy::weight
               ? number_in(cut.at * grain_per_foot, units.weight_per_length, 4)
               : number_in(cut.at * gram_per_cubic_centimetre, units.density, 4);
}

TaskView named(Task task, const std::string& chosen) {
    TaskView view;
    view.task = task;
    switch (task) {
        case Task::change:
            view.title = "Change " + chosen;
            view.does = "Save";
            view.words = {
                "Figures are medians, and one standard deviation in per cent, as the class was "
                "before it learned from your coils; what it learned is worked out anew. Another "
                "name takes the coils confirmed as it along."};
            break;
        case Task::add:
            view.title = "A class of your own";
            view.does = "Add";
            view.words = {
                "Figures are medians, and one standard deviation in per cent. The page Bin makes a "
                "class from coils that you measured."};
            break;
        case Task::split:
            view.title = "Split " + chosen;
            view.does = "Split";
            break;
        case Task::join:
            view.title = "Join another class with " + chosen;
            view.does = "Join";
            break;
        case Task::look:
            break;
    }
    return view;
}

void add_split_words(TaskView& view, const Situation& situation) {
    if (!situation.plan_trouble.empty()) {
        view.trouble = situation.plan_trouble;
        return;
    }
    if (!situation.split) return;
    const auto& split = *situation.split;
    for (const auto* half : {&split.low, &split.high}) {
        view.words.push_back(fmt::format("{}: {} ({}). {}", half->made.name,
                                         coils(half->codes.size()), codes_in_words(half->codes),
                                         figures_in_words(half->made.line, situation.units)));
    }
    if (!split.untold.empty()) {
        view.words.push_back(fmt::format(
            "{} confirmed no more, since the readings do not tell weight and density: {}.",
            coils(split.untold.size()) + (split.untold.size() == 1 ? " is" : " are"),
            codes_in_words(split.untold)));
    }
    view.is_possible = true;
}

void add_join_words(TaskView& view, const Form& form, const Situation& situation) {
    if (!situation.plan_trouble.empty()) view.trouble = situation.plan_trouble;
    const auto other = class_to_join(form, situation);
    if (!situation.joined || other.empty()) {
        view.words.push_back("Click the other class on the map or in the list, or type its name.");
        return;
    }
    const auto* sheet = sheet_named(situation, other);
    const int moving = sheet == nullptr ? 0 : sheet->now.confirmed;
    view.words.push_back(fmt::format("{} becomes a part of {}: together {}.", other,
                                     form.chosen_class,
                                     figures_in_words(situation.joined->line, situation.units)));
    if (moving > 0) {
        view.words.push_back(fmt::format("{} confirmed as {} from then on.",
                                         coils(moving) + (moving == 1 ? " is" : " are"),
                                         form.chosen_class));
    }
    view.is_possible = true;
}

}  // namespace

const std::vector<TaskField>& fields_of(Task task) {
    switch (task) {
        case Task::change:
        case Task::add:
            return class_fields;
        case Task::split:
            return split_fields;
        case Task::join:
            return join_fields;
        case Task::look:
            break;
    }
    return no_fields;
}

std::vector<std::string> typed_from(const app::ClassWords& words) {
    return {words.name,
            words.family.empty() ? "none" : words.family,
            words.grain_class,
            words.density_grade,
            words.line_size,
            words.grains_per_foot,
            words.grains_per_foot_spread,
            words.density,
            words.density_spread,
            words.weight};
}

app::ClassWords words_typed(const Form& form, const Units& units) {
    const auto text = [&](std::size_t at) { return std::string(trimmed(form.typed.at(at))); };
    return {.name = text(0),
            .family = text(1) == "none" ? std::string() : text(1),
            .grain_class = text(2),
            .density_grade = text(3),
            .line_size = text(4),
            .grains_per_foot = text(5),
            .grains_per_foot_spread = text(6),
            .density = text(7),
            .density_spread = text(8),
            .weight = text(9),
            .units = units};
}

std::optional<app::Cut> cut_typed(const Form& form, const Units& units) {
    const auto text = trimmed(form.typed.at(split_at));
    app::Cut cut;
    if (trimmed(form.typed.at(split_by)) == "density") {
        const auto density = parse_density(text, {'.', units.density.name});
        if (density) cut = {app::CutBy::density, density->value.in(gram_per_cubic_centimetre)};
    } else {
        const auto weight = parse_linear_density(text, {'.', units.weight_per_length.name});
        if (weight) cut = {app::CutBy::weight, weight->value.in(grain_per_foot)};
    }
    if (!(cut.at > 0.0)) return std::nullopt;
    return cut;
}

void keep_meaning(Form& form, const Units& before) {
    const auto say_unit = [&](std::size_t at) {
        std::string& text = form.typed.at(at);
        if (!parse_number(trimmed(text))) return;
        text = std::string(trimmed(text)) + " " + std::string(before.weight_per_length.name);
        form.was_rewritten = true;
    };
    if (form.task == Task::change || form.task == Task::add) say_unit(class_weight);
    const bool cuts_weight =
        form.task == Task::split && trimmed(form.typed.at(split_by)) != "density";
    if (cuts_weight) say_unit(split_at);
}

std::vector<std::string> typed_from(const app::Cut& cut, const app::HalfNames& names,
                                    const Units& units) {
    return {cut.by == app::CutBy::weight ? "weight" : "density", number_of(cut, units), names.low,
            names.high};
}

std::string class_to_join(const Form& form, const Situation& situation) {
    if (form.task != Task::join) return "";
    const auto typed = lower_ascii(trimmed(form.typed.at(0)));
    if (typed.empty()) return "";
    std::string found;
    for (const auto& each : situation.classes) {
        const auto name = lower_ascii(each.now.name);
        if (!each.is_line() || each.now.name == form.chosen_class) continue;
        if (name == typed) return each.now.name;
        if (!name.starts_with(typed)) continue;
        if (!found.empty()) return "";
        found = each.now.name;
    }
    return found;
}

std::optional<TaskView> task_view(const Form& form, const Situation& situation) {
    if (form.task == Task::look) return std::nullopt;
    TaskView view = named(form.task, form.chosen_class);
    for (const auto& field : fields_of(form.task)) {
        TaskView::Field shown{field.label, field.unit, field.hint, field.words, field.cells, false};
        const Units& units = situation.units;
        if (field.key == std::string_view("grains_per_foot")) {
            shown.label = units.weight_per_length_name;
            shown.unit = units.weight_per_length.name;
            shown.hint = units.of("11", "2.34");
        }
        if (form.task == Task::split && field.key == std::string_view("at")) {
            const bool by_density = trimmed(form.typed.at(split_by)) == "density";
            shown.unit = by_density ? units.density.name : units.weight_per_length.name;
            shown.hint = units.of("11.3", "2.40");
        }
        view.fields.push_back(std::move(shown));
    }
    if (form.problem) {
        view.trouble = words_of(*form.problem);
        for (std::size_t at = 0; at < view.fields.size(); ++at) {
            if (form.problem->field != fields_of(form.task)[at].key) continue;
            view.fields[at].is_wrong = true;
            if (form.task != Task::split) {
                view.trouble = view.fields[at].label + ": " + view.trouble;
            }
        }
    }
    if (form.task == Task::split) {
        add_split_words(view, situation);
    } else if (form.task == Task::join) {
        add_join_words(view, form, situation);
    } else {
        view.is_possible = true;
    }
    return view;
}

std::optional<PlotWindow> plan_window(const Form& form, const Situation& situation) {
    std::vector<const LineDistribution*> lines;
    if (situation.split) {
        lines = {&situation.split->low.made.line, &situation.split->high.made.line};
    }
    if (situation.joined) lines = {&situation.joined->line};
    if (lines.empty()) return std::nullopt;
    if (const auto* sheet = sheet_named(situation, form.chosen_class)) {
        lines.push_back(&sheet->now.line);
    }
    std::vector<double> xs, ys;
    for (const auto* line : lines) {
        const PlotEllipse ellipse = ellipse_of(*line, situation.units);
        for (const double side : {-ellipse.reach, ellipse.reach}) {
            xs.push_back(ellipse.x * std::exp(side * ellipse.sd_ln_x));
            ys.push_back(ellipse.y * std::exp(side * ellipse.sd_ln_y));
        }
    }
    const PlotWindow wanted{axis_round(xs, 1.15, 1.6), axis_round(ys, 1.15, 1.6)};
    const PlotWindow whole{situation.ground.x, situation.ground.y};
    // Pushed into the whole, where it lies at its edge.
    return unless_whole(moved(wanted, whole, 0.0, 0.0), whole);
}

void add_plan(PlotView& map, const Form& form, const Situation& situation) {
    const auto add = [&](const ReferenceClass& made, Mark mark, std::size_t series) {
        PlotEllipse ellipse = ellipse_of(made.line, situation.units);
        ellipse.mark = mark;
        ellipse.series = series;
        ellipse.stroke = Stroke::dashed;
        ellipse.emphasis = Emphasis::chosen;
        ellipse.name = made.name;
        ellipse.readout =
            made.name + ", as planned\n" + figures_in_words(made.line, situation.units);
        map.ellipses.insert(map.ellipses.begin(), ellipse);
    };
    if (form.task == Task::split && situation.split) {
        const auto& split = *situation.split;
        add(split.high.made, Mark::square, 1);
        add(split.low.made, Mark::triangle, 2);
        const Units& units = situation.units;
        const std::string name =
            fmt::format("cut at {} {}", number_of(split.cut, units), unit_of(split.cut, units));
        if (split.cut.by == app::CutBy::weight) {
            const double at = up(split.cut.at * grain_per_foot, units);
            map.bands.push_back({true, at, at, name});
            return;
        }
        PlotCurve curve;
        const auto weight = units.weight_per_length.size;
        const CurveSpan span{map.y.low * weight, map.y.high * weight, 60};
        for (const LineBody& line :
             lines_of_density(split.cut.at * gram_per_cubic_centimetre, span)) {
            curve.points.push_back(
                {across(line.diameter, units), up(line.weight_per_length, units)});
        }
        curve.stroke = Stroke::dashed;
        curve.name = name;
        map.curves.push_back(std::move(curve));
    }
    if (form.task == Task::join && situation.joined) add(*situation.joined, Mark::disc, 1);
}

}  // namespace coilbook::bench::library_page
