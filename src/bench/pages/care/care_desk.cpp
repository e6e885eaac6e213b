#include "bench/pages/care/care_desk.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/check_catalogue.h"
#include "app/dropped_file.h"
#include "app/export_table.h"
#include "app/merge.h"
#include "app/picture_place.h"
#include "app/restore.h"
#include "base/text.h"
#include "bench/pages/care/care_words.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::care_page {
namespace {

// Whether the task changes much, so that it is shown before what it would be.
bool shows_first(Task task) {
    return task == Task::go_back || task == Task::take_in;
}

// What `lines_` depend on.
Form asked_of(Form form) {
    form.frames_to_focus = 0;
    form.is_rewritten = form.scrolls = false;
    return form;
}

}  // namespace

void Desk::read() {
    backups_ = app::backups_there(workshop());
    const auto is_at = [this](const auto& each) { return each.file.string() == form_.backup; };
    if (std::ranges::none_of(backups_, is_at)) {
        form_.backup = backups_.empty() ? "" : backups_.front().file.string();
    }
    if (form_.kind.empty()) form_.kind = "coils";
    is_stale_ = true;
}

void Desk::say(const std::string& words) {
    message_ = words;
    is_stale_ = true;
}

bool Desk::take_file(const std::string& path) {
    if (!shows_first(form_.task)) return false;
    form_.file = path;
    form_.is_rewritten = true;
    is_stale_ = true;
    return true;
}

void Desk::run(const ChooseTask& command) {
    form_.task = command.task;
    form_.file.clear();
    form_.is_rewritten = true;
    form_.frames_to_focus = frames_to_take_focus;
    problem_.clear();
    lines_.clear();
    shown_for_ = {};
    read();
}

void Desk::run(const StepRow& command) {
    const auto step = [&](const std::vector<ChoiceRow>& rows, std::string& at) {
        if (rows.empty()) return;
        const auto here = std::ranges::find(rows, at, &ChoiceRow::id);
        const auto place = here == rows.end() ? 0 : here - rows.begin();
        const auto next = std::clamp<std::ptrdiff_t>(place + command.step, 0, std::ssize(rows) - 1);
        at = rows[static_cast<std::size_t>(next)].id;
        form_.scrolls = true;
    };
    if (form_.task == Task::go_back) step(backup_rows(backups_, form_.backup), form_.backup);
    if (form_.task == Task::table) step(kind_rows(form_.kind), form_.kind);
}

std::filesystem::path Desk::typed_place() const {
    const std::filesystem::path typed(trimmed(form_.file));
    const auto& catalogue = file();
    if (typed.empty() || typed.is_absolute() || catalogue.empty()) return typed;
    return catalogue.parent_path() / typed;
}

std::filesystem::path Desk::meant() const {
    const auto typed = typed_place();
    return typed.empty() && form_.task == Task::go_back ? std::filesystem::path(form_.backup)
                                                        : typed;
}

bool Desk::is_shown() const {
    return shows_first(form_.task) && !meant().empty() && asked_of(form_) == shown_for_;
}

void Desk::run(const DoTask&) {
    problem_.clear();
    failure_.clear();
    if (file().empty()) {
        failure_ = "This catalogue is no file, so there is nothing to take care of.";
        return;
    }
    if (!is_shown()) lines_.clear();
    switch (form_.task) {
        case Task::back_up:
            return back_up();
        case Task::go_back:
            return go_back();
        case Task::look_through:
            return look_through();
        case Task::table:
            return write_table();
        case Task::take_in:
            return take_in();
        case Task::write_out:
            return write_out();
    }
}

void Desk::done(const std::string& words) {
    message_ = words;
    form_.file.clear();
    form_.is_rewritten = true;
    shown_for_ = {};
    read();
}

void Desk::back_up() {
    const auto typed = typed_place();
    const auto made = app::back_up(workshop(), typed.empty() ? std::nullopt : std::optional(typed));
    if (!made) {
        problem_ = said_here(made.error());
        return;
    }
    done("Backed up to " + made->file.string());
    lines_ = {made->is_sound ? "The copy was looked through and is sound."
                             : "The catalogue is not sound, and so neither is the copy: look it "
                               "through (F5)."};
}

void Desk::go_back() {
    const auto from = meant();
    if (from.empty()) {
        problem_ = "There is no backup to go back to; type or drop one.";
        return;
    }
    const bool is_agreed = is_shown();
    if (is_agreed && is_unsaved_()) {
        problem_ = "Something typed on another page is not saved yet: save it, or take it back.";
        return;
    }
    const auto seen = lines_;
    bool is_as_seen = true;
    const auto agrees = [&](const app::RestorePlan& plan) {
        lines_ = app::lines_of(plan);
        is_as_seen = lines_ == seen;
        return is_agreed && is_as_seen;
    };
    const auto replaced = app::restore(from, file(), workshop().surroundings(), agrees);
    if (replaced) {
        anew_ = "Went back to " + from.filename().string();
        if (*replaced) *anew_ += "; until now: " + (*replaced)->filename().string();
        return;
    }
    if (lines_.empty()) {
        problem_ = said_here(replaced.error());
        return;
    }
    shown_for_ = asked_of(form_);
    if (is_agreed && !is_as_seen) message_ = "Something changed meanwhile: look again.";
}

void Desk::look_through() {
    bool is_sound = true;
    for (const auto& [what, wrong, is_damage] : app::look_through(workshop())) {
        if (wrong.empty()) lines_.push_back(what + ": fine");
        for (const auto& each : wrong) lines_.push_back(what + ": " + each);
        is_sound = is_sound && wrong.empty();
    }
    if (const auto what = app::what_is_to_settle(workshop(), "the page Conflicts (Alt 9)");
        !what.empty()) {
        lines_.push_back("to be settled: " + what);
    }
    message_ = is_sound
                   ? "The catalogue is sound."
                   : "Something is wrong. Go back to a backup (F4), or see 'coilbook salvage'.";
}

void Desk::write_table() {
    const auto kind = store::kind_named(form_.kind);
    if (!kind) {
        problem_ = said_here(kind.error());
        return;
    }
    auto target = typed_place();
    if (target.empty()) {
        target = app::picture_place(workshop(), form_.kind, {".csv"}).string() + ".csv";
    }
    const auto written = app::export_to_file(workshop(), **kind, target, {}, form_.with_names);
    if (!written) {
        problem_ = said_here(written.error());
        return;
    }
    done(fmt::format("All {}: {}", form_.kind, target.string()));
}

void Desk::take_in() {
    const auto from = meant();
    if (from.empty()) {
        problem_ = "Type the other's file, or drop it on the window.";
        return;
    }
    const app::MergeRequest request{.joins_strangers = form_.joins, .is_dry_run = !is_shown()};
    const auto merged = app::kind_of(from) == app::FileKind::catalogue
                            ? app::merge(workshop(), from, request)
                            : app::take_in_exchange(workshop(), from, request);
    if (!merged) {
        problem_ = said_here(merged.error());
        return;
    }
    lines_ = app::lines_of(*merged, request.is_dry_run);
    if (request.is_dry_run) {
        shown_for_ = asked_of(form_);
        return;
    }
    changed();
    done(merged->came.empty() ? "Nothing new came in." : "It is taken in.");
    if (merged->conflicts > 0) {
        lines_.push_back(fmt::format("Copies disagree on {} {}: Alt 9 shows what.",
                                     merged->conflicts,
                                     merged->conflicts == 1 ? "thing" : "things"));
    }
}

void Desk::write_out() {
    auto target = typed_place();
    if (target.empty()) {
        target = app::picture_place(workshop(), "exchange", {".exchange"}).string() + ".exchange";
    }
    const auto written = app::write_exchange(workshop(), target, form_.with_names);
    if (!written) {
        problem_ = said_here(written.error());
        return;
    }
    done(fmt::format("{} acts: {}", *written, target.string()));
}

View Desk::made_view() {
    View view;
    view.failure = failure_;
    view.message = message_;
    view.tasks = task_rows(form_.task);
    put_words(view, form_, is_shown());
    if (form_.task == Task::go_back) view.rows = backup_rows(backups_, form_.backup);
    if (form_.task == Task::table) view.rows = kind_rows(form_.kind);
    const bool is_stale = shows_first(form_.task) && !is_shown() && asked_of(form_) != shown_for_ &&
                          shown_for_ != Form{};
    if (!is_stale) view.lines = lines_;
    if (form_.task == Task::back_up && view.lines.empty() && !backups_.empty()) {
        const auto newest = backup_rows({backups_.front()}, "").front();
        const auto count = backups_.size() == 1
                               ? std::string("There is one backup")
                               : fmt::format("{} backups, the newest", backups_.size());
        view.lines = {
            fmt::format("{}: {}, {}, {}.", count, newest.head, newest.below, newest.aside)};
    }
    view.field_error = problem_;
    view.may_do = !shows_first(form_.task) || !meant().empty();
    return view;
}

}  // namespace coilbook::bench::care_page
