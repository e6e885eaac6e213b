#include "bench/pages/coil/coil_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include "app/coil_care.h"
#include "app/coil_changes.h"
#include "app/learning.h"
#include "app/undo.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/going_back.h"
#include "bench/saved_picture.h"
#include "bench/words.h"

namespace coilbook::bench::coil_page {
namespace {

// A photograph is shown at most so large; a screen of double density has room for it.
constexpr int longest_shown = 1200;
constexpr int most_deeds = 60;

std::vector<Deed> deeds_of(app::Workshop& workshop, const std::string& code) {
    std::vector<Deed> deeds;
    for (const auto& entry : app::history(workshop, code, most_deeds)) {
        const auto& note = entry.note;
        deeds.push_back(
            {note.at, note.what, note.who, note.why, entry.state == store::ActState::undone});
    }
    return deeds;
}

}  // namespace

Desk::Desk(SharedBin& shared) : shared_(shared) {
    go_to(form_, Spot::code);
}

const View& Desk::view() {
    if (edition_ < 0) look_round();  // where it cannot be read the page says so
    if (form_.photo != form_shown_.photo) read_photo();
    if (is_stale_ || form_ != form_shown_) {
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

bool Desk::has_unsaved() const {
    return situation_.coil && trimmed(form_.notes) != situation_.coil->coil.notes;
}

bool Desk::look_round() {
    try {
        shared_.follow();
        if (shared_.edition() == edition_) return false;
        read();
    } catch (const Error& error) {
        edition_ = shared_.edition();
        situation_.failure = error.what();
    }
    is_stale_ = true;
    return true;
}

void Desk::refresh() {
    shared_.refresh();
    read();
}

const Coil* Desk::coil_in_hand() const {
    return situation_.coil ? &situation_.coil->coil : nullptr;
}

void Desk::follow(const Id<Coil>& coil) {
    if (coil_ == coil) return;
    outbox_.post(ChooseCoil{coil});
    act();
}

void Desk::read() {
    edition_ = shared_.edition();
    if (situation_.units != shared_.units()) form_.window.reset();  // its numbers are others
    situation_.units = shared_.units();
    is_stale_ = true;
    auto& workshop = shared_.workshop();
    auto& bin = shared_.bin();
    const auto at = coil_ ? bin.find(*coil_) : std::nullopt;
    if (!at) {
        situation_.coil.reset();
        return;
    }
    const auto kept_photo = situation_.coil ? situation_.coil->photo : nullptr;
    const auto notes_before =
        situation_.coil ? std::optional(situation_.coil->coil.notes) : std::nullopt;
    const auto& entry = bin.entry(*at);
    const auto& summary = bin.summary(*at);
    const bool is_sure =
        summary.state == app::CoilState::confirmed || summary.state == app::CoilState::ready;
    std::optional<LinearDensity> weight;
    if (summary.facts.linear_density) weight = summary.facts.linear_density->value;
    situation_.coil =
        CoilAtHand{.coil = entry.coil,
                   .state = summary.state,
                   .label = summary.label,
                   .doubt = app::doubt_about(workshop, entry.coil.id),
                   .facts = app::fact_sources(workshop, entry.coil, shared_.units()),
                   .place = app::place_of(workshop, entry.coil),
                   .balance = app::balance_of(workshop, is_sure ? summary.label.name : "", weight),
                   .sinks = app::sink_by_water(workshop, entry.coil),
                   .conditions_now = app::conditions_now(workshop, entry.coil),
                   .all_conditions = app::all_conditions(workshop, entry.coil),
                   .photographs = app::photographs_of(workshop, entry.coil),
                   .photo = kept_photo,
                   .photo_trouble = {},
                   .history = deeds_of(workshop, entry.coil.code)};
    // Notes that are being typed stay; else the field shows what is kept.
    if (!notes_before || trimmed(form_.notes) == *notes_before) {
        form_.notes = entry.coil.notes;
        form_.rewritten = Spot::notes;
    }
    read_photo();
}

void Desk::read_photo() {
    if (!situation_.coil) return;
    auto& coil = *situation_.coil;
    form_.photo = shown_photograph(form_, coil);
    is_stale_ = true;
    coil.photo_trouble.clear();
    if (coil.photographs.empty()) {
        coil.photo.reset();
        return;
    }
    const auto& wanted = coil.photographs[form_.photo];
    if (coil.photo && coil.photo->key == wanted.sha256) return;
    coil.photo.reset();
    try {
        auto picture = app::picture_of(shared_.workshop(), wanted, longest_shown);
        if (!picture) {
            coil.photo_trouble = words_of(picture.error());
            return;
        }
        coil.photo = std::make_shared<const Photo>(
            Photo{picture->width, picture->height, std::move(picture->rgba), wanted.sha256});
    } catch (const Error& error) {
        coil.photo_trouble = error.what();
    }
}

void Desk::run(const ChooseCoil& command) {
    if (!shared_.bin().find(command.coil)) return;
    if (coil_ != command.coil) {
        if (has_unsaved()) run(SaveNotes{form_.notes});  // nothing that was typed is lost
        if (form_.problem) return;
        situation_.message.clear();
        situation_.coil.reset();
        form_.photo = 0;
        form_.condition.clear();
        form_.condition_note.clear();
        form_.window.reset();
    }
    coil_ = command.coil;
    form_.code.clear();
    form_.rewritten = Spot::code;
    form_.problem.reset();
    read();
    go_to(form_, Spot::code);
}

void Desk::run(const EnterCode& command) {
    const auto coil = app::coil_by_code(shared_.workshop(), command.code);
    if (!coil) {
        form_.problem = coil.error();
        // Typed into the field of conditions it is a word that is none.
        if (form_.spot == Spot::condition) form_.problem = wear_from(command.code).error();
        return;
    }
    if (!shared_.bin().find(coil->id)) refresh();
    run(ChooseCoil{coil->id});
}

void Desk::run(const StepCoil& command) {
    const auto size = static_cast<std::ptrdiff_t>(shared_.bin().size());
    if (size == 0) return;
    const auto here = coil_ ? shared_.bin().find(*coil_) : std::nullopt;
    std::ptrdiff_t next = command.step > 0 ? 0 : size - 1;
    if (here) {
        next = std::clamp<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(*here) + command.step, 0,
                                          size - 1);
    }
    run(ChooseCoil{Id<Coil>(shared_.bin().entry(static_cast<std::size_t>(next)).coil.id)});
}

void Desk::run(const SaveNotes& command) {
    if (coil_in_hand() == nullptr) return;
    const Coil coil = *coil_in_hand();
    const auto done = app::change_notes(shared_.workshop(), coil, command.text);
    if (!done) {
        form_.problem = done.error();
        go_to(form_, Spot::notes);
        return;
    }
    form_.problem.reset();
    form_.notes = std::string(trimmed(command.text));
    refresh();
    situation_.message = "Saved: notes of " + coil.code;
    go_to(form_, Spot::code);
}

void Desk::run(const NoteCondition& command) {
    if (coil_in_hand() == nullptr) return;
    const Coil coil = *coil_in_hand();
    const auto done =
        app::note_condition(shared_.workshop(), coil, command.what, true, command.note);
    if (!done) {
        form_.problem = done.error();
        go_to(form_, Spot::condition_note);
        return;
    }
    form_.problem.reset();
    form_.condition.clear();
    form_.condition_note.clear();
    form_.rewritten = Spot::condition_note;
    refresh();
    situation_.message = fmt::format("Noted of {}: {}", coil.code, name_of(command.what));
    go_to(form_, Spot::code);
}

void Desk::run(const NoteGoodAgain& command) {
    if (coil_in_hand() == nullptr) return;
    const Coil coil = *coil_in_hand();
    const auto done = app::note_condition(shared_.workshop(), coil, command.what, false);
    if (!done) {
        situation_.failure = words_of(done.error());
        return;
    }
    refresh();
    situation_.message =
        fmt::format("Noted of {}: {} is good again", coil.code, name_of(command.what));
}

void Desk::run(const AddPhotograph& command) {
    const auto name = std::filesystem::path(command.path).filename().string();
    if (coil_in_hand() == nullptr) {
        situation_.failure =
            "No coil is in hand. Scan or type its code, then drop " + name + " again.";
        return;
    }
    const Coil coil = *coil_in_hand();
    const auto added = app::add_photograph(shared_.workshop(), coil, command.path);
    if (!added) {
        if (form_.spot == Spot::photograph) {
            form_.problem = added.error();
        } else {
            situation_.failure = words_of(added.error());
        }
        return;
    }
    form_.problem.reset();
    form_.photograph.clear();
    form_.rewritten = Spot::photograph;
    form_.photo = 0;
    refresh();
    situation_.message = fmt::format("Photograph of {}: {}", coil.code, name);
    go_to(form_, Spot::code);
}

void Desk::run(const PutPhotographAway&) {
    if (!situation_.coil || situation_.coil->photographs.empty()) return;
    const auto& coil = *situation_.coil;
    const auto id = coil.photographs[shown_photograph(form_, coil)].id;
    const auto done = app::put_photograph_away(shared_.workshop(), coil.coil, id);
    if (!done) {
        situation_.failure = words_of(done.error());
        return;
    }
    refresh();
    situation_.message = "The photograph is put away. Ctrl Z brings it back.";
}

void Desk::run(const SavePicture&) {
    if (!situation_.coil || situation_.coil->sinks.empty()) return;
    situation_.message = save_plot(shared_.workshop(), "sinks-" + situation_.coil->coil.code,
                                   "plot", view().sink.plot, form_.window);
}

void Desk::run(const TakeToTheBench&) {
    trip_ = coil_;
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

void Desk::run(const CloseFailure&) {
    situation_.failure.clear();
}

}  // namespace coilbook::bench::coil_page
