#include "bench/pages/library/library_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "app/class_changes.h"
#include "app/coil_changes.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/going_back.h"
#include "bench/pages/library/library_map.h"
#include "bench/pages/library/library_task.h"
#include "bench/saved_picture.h"
#include "bench/widgets/field.h"
#include "bench/words.h"

namespace coilbook::bench::library_page {

Desk::Desk(SharedBin& shared) : shared_(shared) {}

const View& Desk::view() {
    if (edition_ < 0) look_round({});  // where it cannot be read the page says so
    if (form_.filter != form_shown_.filter) keep_choice_in_sight();
    if (form_.typed != form_shown_.typed || form_.task != form_shown_.task) plan();
    if (is_stale_ || !form_.asks_the_same(form_shown_)) {
        view_ = view_of(form_, situation_);
        form_shown_ = form_;
        is_stale_ = false;
    }
    return view_;
}

bool Desk::act() {
    const bool any = carry_out(
        outbox_, [this](const auto& each) { run(each); },
        [this](const Error& error) { situation_.failure = error.what(); });
    if (any) is_stale_ = true;
    return any;
}

void Desk::say_failure(const std::string& words) {
    situation_.failure = words;
    is_stale_ = true;
}

bool Desk::look_round(std::chrono::milliseconds budget) {
    bool changed = false;
    try {
        shared_.follow();
        if (shared_.edition() != edition_) {
            read();
            changed = true;
        }
        if (scorer_ && !scorer_->go_on(budget)) {
            situation_.score = scorer_->score();
            scorer_.reset();
            changed = true;
        }
    } catch (const Error& error) {
        edition_ = shared_.edition();
        scorer_.reset();
        situation_.failure = error.what();
        changed = true;
    }
    if (changed) is_stale_ = true;
    return changed;
}

void Desk::refresh() {
    shared_.refresh();
    read();
}

void Desk::read() {
    auto& workshop = shared_.workshop();
    auto coils = app::confirmed_coils(workshop);
    situation_.classes = app::class_sheets(workshop, coils);
    situation_.examples = app::confirmed_examples(workshop, coils);
    if (situation_.units != shared_.units()) {
        keep_meaning(form_, situation_.units);
        if (form_.window) {
            form_.window = in_other_units(*form_.window, situation_.units, shared_.units());
        }
        situation_.units = shared_.units();
    }
    situation_.ground = ground_of(situation_.classes, situation_.examples, situation_.units);
    // The old score stands until the new one is there, so that nothing flickers.
    scorer_.emplace(workshop, std::move(coils));
    edition_ = shared_.edition();
    is_stale_ = true;
    if (sheet_named(situation_, form_.chosen_class) == nullptr) {
        form_.chosen_class.clear();
        leave_task();  // what it was about is gone
    }
    plan();
    keep_choice_in_sight();
}

void Desk::choose(const std::string& name) {
    form_.chosen_class = name;
    // Where the map shows a part, the chosen class is brought into it.
    const auto* sheet = sheet_named(situation_, name);
    if (!form_.window || sheet == nullptr) return;
    const auto close = close_up_of(*sheet, situation_.units);
    if (!close) return;
    const double x = close->x.value(0.5), y = close->y.value(0.5);
    const double share_x = form_.window->x.share(x), share_y = form_.window->y.share(y);
    if (std::min(share_x, share_y) > 0.1 && std::max(share_x, share_y) < 0.9) return;
    form_.window = centred(*form_.window, {situation_.ground.x, situation_.ground.y}, x, y);
}

void Desk::keep_choice_in_sight() {
    const auto shown = matching(form_.filter, situation_);
    const bool is_there = std::ranges::any_of(
        shown, [&](std::size_t k) { return situation_.classes[k].now.name == form_.chosen_class; });
    if (!is_there && !shown.empty()) choose(situation_.classes[shown.front()].now.name);
}

void Desk::run(const ChooseClass& command) {
    if (sheet_named(situation_, command.name) == nullptr) return;
    if (form_.task == Task::join) {  // it is the other one
        if (command.name == form_.chosen_class) return;
        form_.typed = {command.name};
        form_.was_rewritten = true;
        plan();
        if (form_.window) form_.window = plan_window(form_, situation_);
        return;
    }
    if (form_.task != Task::look) return;  // what is typed is about the chosen one
    choose(command.name);
}

void Desk::run(const StepClass& command) {
    const auto shown = matching(form_.filter, situation_);
    if (shown.empty()) return;
    const auto here = std::ranges::find_if(
        shown, [&](std::size_t k) { return situation_.classes[k].now.name == form_.chosen_class; });
    const auto last = std::ssize(shown) - 1;
    auto at = here - shown.begin();
    at = here == shown.end() ? 0 : std::clamp<std::ptrdiff_t>(at + command.step, 0, last);
    choose(situation_.classes[shown[static_cast<std::size_t>(at)]].now.name);
}

void Desk::run(const NextDoubt&) {
    const auto& classes = situation_.classes;
    const auto here = std::ranges::find_if(
        classes, [&](const app::ClassSheet& each) { return each.now.name == form_.chosen_class; });
    const auto start = static_cast<std::size_t>(here - classes.begin());
    for (std::size_t step = 1; step <= classes.size(); ++step) {
        const auto& sheet = classes[(start + step) % classes.size()];
        if (sheet.set_aside == 0) continue;
        form_.filter.clear();
        form_.filter_was_emptied = true;
        choose(sheet.now.name);
        return;
    }
    situation_.message = "No confirmed coil looks wrong.";
}

void Desk::run(const TakeBack& command) {
    const auto& examples = situation_.examples;
    const auto found = std::ranges::find_if(
        examples, [&](const auto& each) { return each.coil.id == command.coil; });
    if (found == examples.end()) return;
    const Coil coil = found->coil;
    const auto done = app::take_confirmation_back(shared_.workshop(), coil);
    if (!done) {
        situation_.failure = to_line(done.error());
        return;
    }
    refresh();
    situation_.message = "Taken back: what " + coil.code + " was confirmed as. Ctrl Z undoes it.";
}

void Desk::went_back(const WentBack& done) {
    if (done.has_happened) refresh();
    situation_.message = done.words;
}

void Desk::run(const Undo&) {
    went_back(go_back(shared_.workshop()));
}

void Desk::run(const Redo&) {
    went_back(go_forth(shared_.workshop()));
}

void Desk::run(const SavePicture&) {
    situation_.message = save_plot(shared_.workshop(), "library", "map", view().map, form_.window);
}

void Desk::run(const BeginTask& command) {
    auto& workshop = shared_.workshop();
    const auto begin = [&](std::vector<std::string> typed) {
        form_.task = command.task;
        form_.typed = std::move(typed);
        form_.field = 0;
        form_.problem.reset();
        form_.was_rewritten = true;
        form_.frames_to_focus = frames_to_take_focus;
    };
    if (command.task == Task::add) {
        app::ClassWords blank;
        blank.grains_per_foot_spread = "4";
        blank.density_spread = "8";
        blank.weight = "1";
        return begin(typed_from(blank));
    }
    const auto words = app::words_of_class(workshop, form_.chosen_class, situation_.units);
    if (!words) {
        situation_.message = words_of(words.error());
        return;
    }
    if (command.task == Task::change) return begin(typed_from(*words));
    if (command.task == Task::join) return begin({""});
    const auto split = app::planned_split(workshop, form_.chosen_class, {}, "low", "high");
    if (!split) {
        situation_.message = words_of(split.error());
        return;
    }
    begin(typed_from(split->cut, app::half_names(form_.chosen_class, split->cut.by),
                     situation_.units));
    plan();
    form_.window = plan_window(form_, situation_);
}

void Desk::plan() {
    situation_.split.reset();
    situation_.joined.reset();
    situation_.plan_trouble.clear();
    is_stale_ = true;
    auto& workshop = shared_.workshop();
    try {
        if (form_.task == Task::split) {
            const auto cut = cut_typed(form_, situation_.units);
            if (!cut) {
                situation_.plan_trouble = "Cut at: a number between those of its coils.";
                return;
            }
            auto split = app::planned_split(workshop, form_.chosen_class, cut,
                                            trimmed(form_.typed[split_low]),
                                            trimmed(form_.typed[split_high]));
            if (split) {
                situation_.split = std::move(*split);
            } else {
                situation_.plan_trouble = words_of(split.error());
            }
        } else if (form_.task == Task::join) {
            const auto other = class_to_join(form_, situation_);
            if (other.empty()) return;
            auto joined = app::planned_join(workshop, form_.chosen_class, other);
            if (joined) {
                situation_.joined = std::move(*joined);
            } else {
                situation_.plan_trouble = words_of(joined.error());
            }
        }
    } catch (const Error& error) {
        situation_.plan_trouble = error.what();
    }
}

Result<std::string> Desk::finished() {
    auto& workshop = shared_.workshop();
    const auto told = [](const Result<void>& done, std::string words) -> Result<std::string> {
        if (!done) return tl::unexpected(done.error());
        return words + ". Ctrl Z undoes it.";
    };
    const std::string chosen = form_.chosen_class;
    switch (form_.task) {
        case Task::change: {
            const auto words = words_typed(form_, situation_.units);
            auto done = told(app::change_class(workshop, chosen, words), "Changed: " + words.name);
            if (done) form_.chosen_class = words.name;
            return done;
        }
        case Task::add: {
            const auto words = words_typed(form_, situation_.units);
            auto done = told(app::add_class(workshop, words), "Added: " + words.name);
            if (done) form_.chosen_class = words.name;
            return done;
        }
        case Task::split: {
            if (!situation_.split) return problem("at", situation_.plan_trouble, "");
            const auto split = *situation_.split;
            auto done = told(app::split_class(workshop, chosen, split), "Split: " + chosen);
            if (done) form_.chosen_class = split.low.made.name;
            return done;
        }
        case Task::join: {
            const auto other = class_to_join(form_, situation_);
            if (other.empty()) {
                return problem("class", "which class is joined with it is not clear",
                               "a class of the list");
            }
            return told(app::join_classes(workshop, chosen, other),
                        "Joined: " + other + " with " + chosen);
        }
        case Task::look:
            break;
    }
    return std::string();
}

void Desk::run(const FinishTask&) {
    if (form_.task == Task::look) return;
    const auto done = finished();
    if (!done) {
        form_.problem = done.error();
        const auto& fields = fields_of(form_.task);
        for (std::size_t at = fields.size(); at-- > 0;) {
            if (done.error().field == fields[at].key) form_.field = at;
        }
        form_.frames_to_focus = frames_to_take_focus;
        return;
    }
    leave_task();
    form_.filter.clear();
    form_.filter_was_emptied = true;
    refresh();
    choose(form_.chosen_class);
    situation_.message = *done;
}

void Desk::leave_task() {
    if (form_.task == Task::look) return;
    form_.task = Task::look;
    form_.typed.clear();
    form_.problem.reset();
    form_.frames_to_focus = frames_to_take_focus;
    plan();
}

void Desk::run(const LeaveTask&) {
    leave_task();
}

void Desk::run(const CloseFailure&) {
    situation_.failure.clear();
}

}  // namespace coilbook::bench::library_page
