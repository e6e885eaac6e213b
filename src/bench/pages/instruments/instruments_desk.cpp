#include "bench/pages/instruments/instruments_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <utility>

#include "base/error.h"
#include "base/text.h"
#include "bench/going_back.h"
#include "bench/saved_picture.h"

namespace coilbook::bench::instruments_page {

Desk::Desk(SharedBin& shared) : shared_(shared), workshop_(shared.workshop()) {
    read_instruments();
    if (!situation_.instruments.empty()) form_.in_hand = situation_.instruments.front().key;
    go_to(form_, Spot::code);
    if (auto unfinished = app::unfinished_study(workshop_)) {
        situation_.unfinished = *unfinished;
        study_kept_ = situation_.unfinished;
    } else {
        situation_.failure = words_of(unfinished.error());
    }
}

const View& Desk::view() {
    if (is_stale_ || form_ != form_shown_) {
        view_ = view_of(form_, situation_);
        form_shown_ = form_;
        is_stale_ = false;
    }
    return view_;
}

const app::AnyInstrument* Desk::instrument() const {
    const auto* known = in_hand(form_, situation_);
    return known == nullptr ? nullptr : &known->instrument;
}

bool Desk::act() {
    const bool any = carry_out(
        outbox_, [this](const auto& each) { run(each); },
        [this](const Error& error) {
            situation_.failure =
                std::string(error.what()) + ". What you typed is still in its field.";
        });
    if (any) is_stale_ = true;
    keep_study();
    return any;
}

// A reading that is entered is on the disk before the next one is.
void Desk::keep_study() {
    if (situation_.unfinished) return;  // that one lies there until somebody decides
    const StudyDraft& study = form_.study;
    std::optional<app::UnfinishedStudy> now;
    if (study.is_going() && study.kept_as.empty()) now = unfinished_of(study);
    if (now == study_kept_) return;
    study_kept_ = now;  // tried once
    try {
        now ? app::keep_unfinished(workshop_, *now) : app::put_away_unfinished(workshop_);
    } catch (const Error& error) {
        say_failure(std::string(error.what()) +
                    ". The study goes on, but would not survive the end of the window.");
    }
}

std::string Desk::word_at_start() const {
    if (!situation_.unfinished) return "";
    return words_of_unfinished(*situation_.unfinished) +
           " Alt 4, then F9, goes on with it, or throws it away.";
}

void Desk::say_failure(const std::string& words) {
    situation_.failure = words;
    is_stale_ = true;
}

bool Desk::look_round() {
    try {
        shared_.follow();
        if (shared_.edition() == edition_) return false;
        read_instruments();
    } catch (const Error& error) {
        situation_.failure = error.what();
        is_stale_ = true;
    }
    return true;
}

void Desk::read_instruments() {
    edition_ = shared_.edition();
    situation_.instruments = app::known_instruments(workshop_);
    situation_.now = workshop_.surroundings().now();
    if (situation_.units != shared_.units()) form_.window.reset();  // its numbers are others
    situation_.units = form_.units = shared_.units();
    form_.units_of_known.clear();
    for (const auto& known : situation_.instruments) {
        form_.units_of_known[known.key] = app::unit_to_type(known, shared_.units());
    }
    if (form_.in_hand && in_hand(form_, situation_) == nullptr) {  // its making was undone
        form_.in_hand = situation_.instruments.front().key;
        if (form_.task == Task::check) back_to_look(form_);
    }
    read_coated();
    is_stale_ = true;
}

void Desk::read_coated() {
    situation_.coated.reset();
    if (!form_.in_hand || form_.in_hand->kind != app::InstrumentKind::micrometer) return;
    if (auto coils = app::coated_coils(workshop_, form_.in_hand->code)) {
        situation_.coated = std::move(*coils);
    }
}

void Desk::run(const ChooseInstrument& command) {
    if (known(situation_, command.key) == nullptr) return;
    if (form_.in_hand != command.key) form_.window.reset();
    form_.in_hand = command.key;
    form_.code.clear();
    form_.asked_code.clear();
    form_.rewritten = Spot::code;
    situation_.message.clear();
    situation_.squeeze_found.clear();
    situation_.now = workshop_.surroundings().now();
    back_to_look(form_);
    read_coated();
}

void Desk::run(const EnterCode& command) {
    const auto& all = situation_.instruments;
    const auto found =
        std::ranges::find_if(all, [&](const auto& each) { return each.key.code == command.code; });
    if (found != all.end()) {
        run(ChooseInstrument{app::InstrumentKey(found->key)});
    } else if (const auto rows = list_view(form_, situation_).rows; rows.size() == 1) {
        run(ChooseInstrument{rows.front().key});  // "thermo" is enough for the only one
    } else if (form_.asked_code == command.code && rows.empty()) {
        form_.asked_code.clear();
        form_.code.clear();
        begin_figures(form_, nullptr);
        form_.figures.code.text = command.code;
        go_to(form_, Spot::resolution);
    } else {
        form_.asked_code = command.code;  // the view says what is wrong with it, if anything
    }
}

void Desk::run(const StepInstrument& command) {
    const auto rows = list_view(form_, situation_).rows;
    if (rows.empty()) return;
    const auto here = std::ranges::find(rows, true, &InstrumentRow::in_hand);
    const int count = static_cast<int>(rows.size());
    const int at = here == rows.end() ? (command.step > 0 ? -1 : count)
                                      : static_cast<int>(here - rows.begin());
    const std::string typed = form_.code;
    run(ChooseInstrument{rows[static_cast<std::size_t>((at + command.step + count) % count)].key});
    form_.code = typed;  // the list stays as it was filtered
}

void Desk::run(const SaveCheck&) {
    const CheckDraft* check = check_at_hand(form_);
    if (check == nullptr) return;
    const auto key = *form_.in_hand;
    const auto read = check->read();
    if (read.empty()) return;
    const auto found = app::check_instrument(workshop_, key, read);
    if (!found) {
        form_.checks[key].sure.problem = found.error();
        go_to(form_, Spot::sure);
        return;
    }
    form_.checks.erase(key);
    shared_.refresh();
    read_instruments();
    back_to_look(form_);
    situation_.message = "Saved: check of " + app::in_words(key);
}

void Desk::run(const SaveFigures&) {
    FiguresDraft& draft = form_.figures;
    const auto figures = figures_of(draft, draft.is_new ? nullptr : instrument());
    if (!figures) return;
    draft.code.problem.reset();
    const app::InstrumentKey key =
        draft.is_new || !form_.in_hand
            ? app::InstrumentKey{draft.kind, std::string(trimmed(draft.code.text))}
            : *form_.in_hand;
    const auto done = draft.is_new ? app::add_instrument(workshop_, key, *figures)
                                   : app::change_figures(workshop_, key, *figures);
    if (!done) {
        const std::string& field = done.error().field;
        const Spot spot = field == "limit_of_error"  ? Spot::limit
                          : field == "repeatability" ? Spot::scatter
                          : draft.is_new             ? Spot::new_code
                                                     : Spot::resolution;
        TypedText& typed = spot == Spot::limit     ? draft.limit
                           : spot == Spot::scatter ? draft.scatter
                           : draft.is_new          ? draft.code
                                                   : draft.resolution;
        typed.problem = done.error();
        return go_to(form_, spot);
    }
    const bool was_new = draft.is_new;
    shared_.refresh();
    read_instruments();
    run(ChooseInstrument{key});
    situation_.message = (was_new ? "New: " : "Saved: figures of ") + app::in_words(key);
}

void Desk::run(const FindSqueeze&) {
    if (!form_.in_hand) return;
    const auto found = app::check_on_coatings(workshop_, form_.in_hand->code);
    if (!found) {
        situation_.message = words_of(found.error());
        return;
    }
    shared_.refresh();
    read_instruments();
    situation_.squeeze_found = *found;
    situation_.message = "Saved: how " + app::in_words(*form_.in_hand) + " squeezes coatings";
}

void Desk::run(const BeginStudy&) {
    StudyDraft& study = form_.study;
    if (study.is_going()) return;
    if (situation_.unfinished) {
        situation_.failure = "Go on with the study that is not finished, or throw it away, first.";
        return;
    }
    // A file there that cannot be understood is somebody's all the same.
    if (const auto there = app::unfinished_study(workshop_); !there) {
        situation_.failure = words_of(there.error());
        return;
    }
    const auto plan = plan_of(study);
    if (!plan) {
        go_to(form_, study.people.problem  ? Spot::people
                     : study.coils.problem ? Spot::coils
                                           : Spot::times);
        return;
    }
    std::optional<std::uint64_t> seed;
    if (study.is_shuffled) {
        const auto bytes = workshop_.surroundings().random();
        std::uint64_t number = 0;
        std::memcpy(&number, bytes.data(), sizeof number);
        seed = number;
    }
    study.people_names = plan->people;
    study.coil_codes = plan->coils;
    study.turns = app::turns_of(plan->people.size(), plan->coils.size(), plan->times, seed);
    study.readings.clear();
    study.as_written.clear();
    go_to(form_, Spot::study_reading);
}

void Desk::run(const GoOnWithStudy&) {
    if (!situation_.unfinished || form_.study.is_going()) return;
    form_.study = draft_of(*std::exchange(situation_.unfinished, {}));
    begin_study_task(form_);
}

void Desk::run(const ThrowUnfinishedAway&) {
    if (!situation_.unfinished) return;
    app::put_away_unfinished(workshop_);
    situation_.unfinished.reset();
    study_kept_.reset();
    situation_.message = "The unfinished study is thrown away.";
    if (form_.task == Task::study) begin_study_task(form_);
}

void Desk::run(const KeepStudy&) {
    StudyDraft& study = form_.study;
    if (!study.is_done()) return;
    std::vector<app::StudyRowAsWritten> rows;
    for (std::size_t at = 0; at < study.turns.size(); ++at) {
        rows.push_back({study.coil_codes[study.turns[at].coil],
                        study.people_names[study.turns[at].person], study.as_written[at]});
    }
    const auto file = app::keep_study(workshop_, rows, study.unit);
    if (!file) {
        situation_.failure = words_of(file.error());
        return;
    }
    study.kept_as = file->string();
    situation_.message = "Written: " + study.kept_as;
}

void Desk::run(const SavePicture&) {
    const PlotView& plot = view().result.plot;
    if (plot.has_nothing() || !form_.in_hand) return;
    situation_.message =
        save_plot(workshop_, "check-" + app::in_words(*form_.in_hand), "plot", plot, form_.window);
}

void Desk::go_back_or_forth(bool forth) {
    const auto went = forth ? go_forth(workshop_) : go_back(workshop_);
    if (went.has_happened) {
        shared_.refresh();
        read_instruments();
        situation_.squeeze_found.clear();
        // What the form shows of the catalogue is shown anew.
        if (form_.task == Task::figures && !form_.figures.is_new) {
            begin_figures(form_, instrument());
            form_.rewritten = form_.spot;
        }
    }
    situation_.message = went.words;
}

void Desk::run(const Undo&) {
    go_back_or_forth(false);
}
void Desk::run(const Redo&) {
    go_back_or_forth(true);
}

void Desk::run(const CloseFailure&) {
    situation_.failure.clear();
}

bool Desk::has_unsaved() const {
    const bool has_check =
        std::ranges::any_of(form_.checks, [](const auto& each) { return each.second.is_begun(); });
    const bool has_study = !form_.study.readings.empty() && form_.study.kept_as.empty();
    return has_check || has_study ||
           (form_.task == Task::figures && form_.figures.is_new &&
            !form_.figures.code.text.empty());
}

}  // namespace coilbook::bench::instruments_page
