#include "bench/pages/library/library_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "app/coil_changes.h"
#include "app/picture_place.h"
#include "base/error.h"
#include "bench/going_back.h"
#include "bench/pages/library/library_map.h"
#include "bench/plot_file/plot_file.h"

namespace coilbook::bench::library_page {

Desk::Desk(SharedBin& shared) : shared_(shared) {}

const View& Desk::view() {
    if (edition_ < 0) look_round({});  // where it cannot be read the page says so
    if (form_.filter != form_shown_.filter) keep_choice_in_sight();
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
    situation_.ground = ground_of(situation_.classes, situation_.examples);
    // The old score stands until the new one is there, so that nothing flickers.
    scorer_.emplace(workshop, std::move(coils));
    edition_ = shared_.edition();
    is_stale_ = true;
    if (sheet_named(situation_, form_.chosen_class) == nullptr) form_.chosen_class.clear();
    keep_choice_in_sight();
}

void Desk::choose(const std::string& name) {
    form_.chosen_class = name;
    // Where the map shows a part, the chosen class is brought into it.
    const auto* sheet = sheet_named(situation_, name);
    if (!form_.window || sheet == nullptr) return;
    const auto close = close_up_of(*sheet);
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
    constexpr std::array kinds{PictureKind::svg, PictureKind::pdf, PictureKind::png};
    std::vector<std::string_view> endings;
    for (const PictureKind kind : kinds) endings.push_back(ending_of(kind));
    const auto place = app::picture_place(shared_.workshop(), "library", endings);
    const PlotView& map = view().map;
    const PlotWindow shown = form_.window.value_or(PlotWindow{map.x, map.y});
    for (const PictureKind kind : kinds) {
        write_plot(map, shown, place.string() + std::string(ending_of(kind)), kind);
    }
    situation_.message = fmt::format("Saved the map: {} as .svg, .pdf and .png", place.string());
}

void Desk::run(const CloseFailure&) {
    situation_.failure.clear();
}

}  // namespace coilbook::bench::library_page
