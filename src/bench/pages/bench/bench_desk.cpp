#include "bench/pages/bench/bench_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "app/codes.h"
#include "app/coil_changes.h"
#include "app/coil_sheet.h"
#include "app/instruments.h"
#include "app/labels.h"
#include "app/learning.h"
#include "app/question.h"
#include "app/take_in.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/going_back.h"
#include "bench/pages/bench/next_words.h"
#include "bench/saved_picture.h"
#include "bench/words.h"

namespace coilbook::bench::bench_page {
namespace {

using Tenths = std::chrono::duration<long long, std::deci>;

std::string taken_in_words(const app::TakenIn& taken, const std::string& name) {
    auto words = fmt::format("Taken in from {}: {}", name, app::counts_in_words(taken));
    for (const auto& warning : taken.warnings) words += ". " + to_line(warning);
    return words;
}

std::string refusal_words(const std::vector<Problem>& problems, const std::string& name) {
    auto why = fmt::format("Nothing was taken in from {}. {}", name, to_line(problems.front()));
    if (problems.size() > 1) {
        why += fmt::format("; and {} more like it. 'coilbook readings take-in' lists them all",
                           problems.size() - 1);
    }
    return why;
}

}  // namespace

Desk::Desk(SharedBin& shared, Clock clock)
    : shared_(shared), workshop_(shared.workshop()), bin_(shared.bin()), clock_(std::move(clock)) {
    read_bin();
    units_ = field_units(form_, situation_);
    go_to(form_, Spot{});
}

// Whoever changes the lines may move them.
void Desk::look_at_lines() {
    if (shared_.lines_edition() == lines_edition_) return;
    lines_edition_ = shared_.lines_edition();
    situation_.bin = shared_.lines();
    is_stale_ = true;
}

void Desk::follow_units() {
    const FieldUnits now = field_units(form_, situation_);
    if (now == units_) return;
    const FieldUnits before = std::exchange(units_, now);
    for (auto& each : form_.put_aside) {
        each.second = under_other_units(each.second, before, now);
    }
    if (!situation_.in_hand) return;
    const Typed shown = typed_of(*situation_.in_hand, before), kept = kept_texts();
    const Typed typed = std::exchange(form_.typed, under_other_units(form_.typed, before, now));
    for (const ReadingField field : bench_order) {
        auto& text = form_.typed.text(field);
        if (typed.text(field) == shown.text(field)) text = kept.text(field);
        if (form_.spot == field && text != typed.text(field)) form_.rewritten = field;
    }
}

const View& Desk::view() {
    look_at_lines();
    follow_units();
    if (is_stale_ || form_ != form_shown_) {
        view_ = view_of(form_, situation_);
        form_shown_ = form_;
        is_stale_ = false;
    }
    return view_;
}

bool Desk::act() {
    look_at_lines();
    follow_units();
    const bool any = carry_out(
        outbox_, [this](const auto& each) { run(each); },
        [this](const Error& error) {
            situation_.failure =
                std::string(error.what()) + ". What you typed is still in its field.";
        });
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
            read_bin();
            changed = true;
        }
        shared_.work_out(budget);
        if (watch_started_) {
            const auto tenths = std::chrono::floor<Tenths>(clock_() - *watch_started_);
            const auto shown = std::chrono::duration<double>(tenths).count() * second;
            if (situation_.watch != shown) {
                situation_.watch = shown;
                changed = true;
            }
        }
    } catch (const Error& error) {
        situation_.failure = error.what();
        changed = true;
    }
    if (shared_.lines_edition() != lines_edition_) changed = true;
    look_at_lines();
    if (changed) is_stale_ = true;
    return changed;
}

void Desk::refresh() {
    shared_.refresh();
    read_bin();
}

void Desk::refresh(const Id<Coil>& coil) {
    shared_.refresh(coil);
    read_bin();
}

void Desk::read_bin() {
    edition_ = shared_.edition();
    look_at_lines();
    situation_.library = bin_.library();
    situation_.before_learning.clear();
    for (const auto& each : workshop_.learned().classes) {
        situation_.before_learning.push_back(each.before);
    }
    situation_.instruments = workshop_.instruments();
    situation_.question = app::question_of(workshop_);
    if (situation_.units != shared_.units()) form_.window.reset();  // its numbers are others
    situation_.units = shared_.units();
    situation_.scale_units.clear();
    situation_.micrometer_units.clear();
    for (const auto& known : app::known_instruments(workshop_)) {
        const std::string unit = app::unit_shown_by(known);
        if (unit.empty()) continue;
        if (known.key.kind == app::InstrumentKind::scale) {
            situation_.scale_units[known.key.code] = unit;
        } else if (known.key.kind == app::InstrumentKind::micrometer) {
            situation_.micrometer_units[known.key.code] = unit;
        }
    }
    shared_.ask(situation_.question);
    read_coil_in_hand();
    follow_units();
    is_stale_ = true;
}

void Desk::read_coil_in_hand() {
    if (!situation_.in_hand) return;
    const auto at = bin_.find(situation_.in_hand->coil.id);
    if (!at) {  // retired elsewhere meanwhile
        situation_.in_hand.reset();
        return;
    }
    const auto& entry = bin_.entry(*at);
    shared_.work_out(*at);
    look_at_lines();
    situation_.in_hand = CoilInHand{.coil = entry.coil,
                                    .state = bin_.state(*at),
                                    .readings = app::current_readings(workshop_, entry.coil),
                                    .values = entry.readings,
                                    .verdict = bin_.verdict(*at),
                                    .confirmed_as = entry.confirmed_class,
                                    .doubt = app::doubt_about(workshop_, entry.coil.id)};
}

const Coil* Desk::coil_in_hand() const {
    return situation_.in_hand ? &situation_.in_hand->coil : nullptr;
}

void Desk::put_down() {
    if (!situation_.in_hand) return;
    const Id<Coil> id = situation_.in_hand->coil.id;
    if (form_.typed == kept_texts()) {
        form_.put_aside.erase(id);
    } else {
        form_.put_aside.insert_or_assign(id, form_.typed);
    }
    situation_.in_hand.reset();
    form_.typed = {};
    form_.chosen_class.clear();
    form_.window.reset();
    run_down();
}

void Desk::pick_up(const Id<Coil>& coil) {
    const auto at = bin_.find(coil);
    if (!at || (coil_in_hand() != nullptr && coil_in_hand()->id == coil)) return;
    put_down();
    situation_.message.clear();
    situation_.in_hand = CoilInHand{.coil = bin_.entry(*at).coil,
                                    .state = {},
                                    .readings = {},
                                    .values = {},
                                    .verdict = {},
                                    .confirmed_as = {},
                                    .doubt = {}};
    read_coil_in_hand();
    const auto aside = form_.put_aside.find(coil);
    form_.typed = aside != form_.put_aside.end() ? aside->second : kept_texts();
}

void Desk::run(const ChooseCoil& command) {
    pick_up(command.coil);
    if (coil_in_hand() == nullptr) return;
    form_.code.clear();
    form_.asked_code.clear();
    // On an untouched coil the flow begins at its start, otherwise where it would help most.
    const bool is_new = situation_.in_hand->state == app::CoilState::unmeasured;
    const auto wanted = view_of(form_, situation_).verdict.next_field;
    go_to(form_, is_new || !wanted ? Spot{bench_order.front()} : Spot{*wanted});
}

void Desk::run(const EnterCode& command) {
    if (const BinLine* line = coil_with_code(situation_.bin, command.code)) {
        run(ChooseCoil{Id<Coil>(line->coil)});
    } else if (!coil_code_from(command.code)) {
        form_.asked_code.clear();  // the view says why it cannot be a code
    } else if (form_.asked_code == command.code) {
        run(MakeCoil{command.code});
    } else {
        form_.asked_code = command.code;
    }
}

void Desk::run(const MakeCoil& command) {
    const auto coil = app::add_coil(workshop_, command.code);
    if (!coil) {
        situation_.failure = words_of(coil.error());
        return;
    }
    refresh(coil->id);
    run(ChooseCoil{coil->id});
    situation_.message = "New coil " + coil->code;
}

void Desk::run(const GiveCode&) {
    run(MakeCoil{app::new_code(workshop_)});
}

// Beside the catalogue, and never over another file.
void Desk::run(const WriteLabel&) {
    if (coil_in_hand() == nullptr) return;
    const std::string code = coil_in_hand()->code;
    const auto file = app::save_label(workshop_, code, situation_.units);
    if (!file) {
        situation_.failure = words_of(file.error());
        return;
    }
    situation_.message = fmt::format("Label of {}: {}", code, file->string());
}

void Desk::run(const SavePicture&) {
    if (coil_in_hand() == nullptr) return;
    situation_.message = save_plot(workshop_, "coil-" + coil_in_hand()->code, "plot",
                                   view().verdict.picture, form_.window);
}

void Desk::run(const Confirm& command) {
    if (coil_in_hand() == nullptr) return;
    const Coil coil = *coil_in_hand();
    const auto done = app::confirm_coil(workshop_, coil, command.class_name);
    if (!done) {
        situation_.failure = words_of(done.error());
        return;
    }
    refresh(coil.id);
    form_.chosen_class.clear();
    situation_.message = "Confirmed: " + coil.code + " is " + command.class_name;
}

void Desk::run(const TakeBackConfirmation&) {
    if (coil_in_hand() == nullptr) return;
    const Coil coil = *coil_in_hand();
    const auto done = app::take_confirmation_back(workshop_, coil);
    if (!done) {
        situation_.failure = words_of(done.error());
        return;
    }
    refresh(coil.id);
    situation_.message = "Taken back: what " + coil.code + " was confirmed as";
}

void Desk::run(const NextCoil&) {
    std::size_t start = 0;
    if (coil_in_hand() != nullptr) start = bin_.find(coil_in_hand()->id).value_or(0) + 1;
    for (std::size_t step = 0; step < bin_.size(); ++step) {
        const std::size_t at = (start + step) % bin_.size();
        const auto& entry = bin_.entry(at);
        const bool is_this = coil_in_hand() != nullptr && coil_in_hand()->id == entry.coil.id;
        if (entry.confirmed_class || is_this) continue;
        run(ChooseCoil{entry.coil.id});
        return;
    }
    situation_.message = "No other coil waits. Scan or type the code of the next one.";
    form_.code.clear();
    go_to(form_, Spot{});
}

void Desk::run(const StepCoil& command) {
    const BinView shown = view_of(form_, situation_).bin;
    if (shown.rows.empty()) return;
    const auto last = static_cast<std::ptrdiff_t>(shown.rows.size()) - 1;
    std::ptrdiff_t at = command.step > 0 ? 0 : last;
    if (shown.in_hand) {
        at = std::clamp<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(*shown.in_hand) + command.step,
                                        0, last);
    }
    const Spot spot = form_.spot;  // walking through the bin leaves the keyboard where it is
    pick_up(shown.rows[static_cast<std::size_t>(at)].id);
    go_to(form_, spot);
}

void Desk::ask(const Question& question) {
    app::ask(workshop_, question);
    refresh();
    situation_.message = "To know: " + bench_page::asked(question, situation_.library) + ", " +
                         lower_ascii(order_asked(question));
}

void Desk::run(const AskNext&) {
    Question question = situation_.question;
    question.like.reset();
    switch (situation_.question.answer) {
        case Answer::line:
            question.answer = Answer::grain_class;
            break;
        case Answer::grain_class:
            question.answer = Answer::density_grade;
            break;
        case Answer::density_grade:
            question.like = class_to_compare(form_, situation_);
            question.answer = question.like ? Answer::fishes_like : Answer::line;
            break;
        case Answer::fishes_like:
            question.answer = Answer::line;
            break;
    }
    ask(question);
}

void Desk::run(const AskInOtherOrder&) {
    Question question = situation_.question;
    question.by_time = !question.by_time;
    ask(question);
}

void Desk::run(const TakeInFile& command) {
    const std::string name = std::filesystem::path(command.path).filename().string();
    const auto taken = app::take_in_file(workshop_, command.path);
    if (!taken) {
        situation_.failure = refusal_words(taken.error(), name);
        return;
    }
    situation_.failure.clear();
    refresh();
    situation_.message = taken_in_words(*taken, name);
}

// Fields that showed what was kept show what is kept now; what is typed and not saved stays.
void Desk::went_back(const WentBack& done) {
    situation_.message = done.words;
    if (!done.has_happened) return;
    const bool had_coil = situation_.in_hand.has_value();
    const Typed before = had_coil ? kept_texts() : Typed{};
    refresh();
    if (had_coil && !situation_.in_hand) {  // the coil itself is not there any more
        form_.typed = {};
        form_.code.clear();
        go_to(form_, Spot{});
    } else if (had_coil) {
        const Typed now = kept_texts();
        for (const auto field : bench_order) {
            auto& text = form_.typed.text(field);
            if (text != before.text(field) || text == now.text(field)) continue;
            text = now.text(field);
            if (form_.spot == field) form_.rewritten = field;
        }
        if (form_.typed.notes == before.notes) form_.typed.notes = now.notes;
    }
    form_.chosen_class.clear();
}

void Desk::run(const Undo&) {
    went_back(go_back(workshop_));
}

void Desk::run(const Redo&) {
    went_back(go_forth(workshop_));
}

bool Desk::has_unsaved() const {
    if (!form_.put_aside.empty()) return true;
    if (!situation_.in_hand) return false;
    const Typed stored = kept_texts();
    return form_.typed.texts != stored.texts || form_.typed.notes != stored.notes;
}

void Desk::run(const CloseFailure&) {
    situation_.failure.clear();
}

}  // namespace coilbook::bench::bench_page
