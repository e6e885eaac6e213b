// What a person does to the readings of the coil in hand.
#include <fmt/format.h>

#include <utility>
#include <variant>

#include "app/coil_changes.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/pages/bench/bench_desk.h"
#include "bench/words.h"
#include "catalog/given_code.h"
#include "identify/consistency.h"

namespace coilbook::bench::bench_page {
namespace {

// What was typed before the code came: with nothing there, what the field showed.
std::string without_end(const std::string& text, const std::string& code,
                        const std::string& stored) {
    if (text.size() <= code.size()) return stored;
    return text.substr(0, text.size() - code.size());
}

}  // namespace

void Desk::run(const SaveReading& command) {
    if (coil_in_hand() == nullptr) return;
    const Coil coil = *coil_in_hand();
    const std::string what = spoken(command.field) + " of " + coil.code;
    std::string written;  // as it is kept
    auto& trouble = form_.typed.problem(command.field);
    try {
        Result<void> done;
        if (command.text.empty()) {
            done = app::withdraw_reading(workshop_, coil, command.field);
        } else {
            const auto saved =
                app::record_reading(workshop_, coil, command.field, command.text,
                                    {'.', command.bare_unit}, form_.tools.for_field(command.field),
                                    situation_.units);
            if (!saved) {
                done = tl::unexpected(saved.error());
            } else {
                for (const Reading& each : *saved) written += " " + each.as_written;
            }
        }
        if (!done) {
            trouble = done.error();
            go_to(form_, command.field);
            return;
        }
        trouble.reset();
        form_.chosen_class.clear();
        refresh(coil.id);
    } catch (const Error&) {
        trouble = Problem{{}, "not saved", "press Enter in this field again"};
        go_to(form_, command.field);
        throw;  // told by act()
    }
    // The field now shows what is kept; one for several readings is empty for the next.
    form_.typed.text(command.field) = kept_texts().text(command.field);
    situation_.message = command.text.empty() ? "Taken back: " + what : "Saved: " + what + written;
    if (!command.instead_of.empty()) {
        situation_.message += ", in place of " + coilbook::quoted(command.instead_of);
    }
}

// The coil whose code was entered: alone, or as a device types it behind something else. Only a
// code with a check character is looked for at the end, and not after a space, where a note may say
// it.
const BinLine* Desk::scanned(const std::string& text) const {
    if (const BinLine* line = coil_with_code(situation_.bin, text)) return line;
    if (text.size() <= given_code_length) return nullptr;
    const std::string end = text.substr(text.size() - given_code_length);
    const bool stands_alone = text[text.size() - given_code_length - 1] == ' ';
    if (stands_alone || !is_given_code(end)) return nullptr;
    return coil_with_code(situation_.bin, end);
}

void Desk::run(const LookForScan& command) {
    if (coil_in_hand() == nullptr) return;
    const BinLine* line = scanned(command.text);
    if (line == nullptr) return;  // then it stays refused
    const std::string stored = kept_texts().text(command.field);
    form_.typed.text(command.field) = without_end(command.text, line->code, stored);
    form_.typed.problem(command.field).reset();
    form_.typed.refused(command.field).clear();
    run(ChooseCoil{Id<Coil>(line->coil)});
}

void Desk::run(const SaveNotes& command) {
    if (coil_in_hand() == nullptr) return;
    const std::string code = coil_in_hand()->code;
    if (const BinLine* line = scanned(command.text)) {
        form_.typed.notes = without_end(command.text, line->code, situation_.in_hand->coil.notes);
        return run(ChooseCoil{Id<Coil>(line->coil)});
    }
    auto& trouble = form_.typed.notes_problem;
    try {
        const auto done = app::change_notes(workshop_, *coil_in_hand(), command.text);
        if (!done) {
            trouble = done.error();
            go_to(form_, Spot::notes());
            return;
        }
        trouble.reset();
        refresh(situation_.in_hand->coil.id);
    } catch (const Error&) {
        trouble = Problem{{}, "not saved", "press Enter in this field again"};
        go_to(form_, Spot::notes());
        throw;  // told by act()
    }
    form_.typed.notes = situation_.in_hand->coil.notes;
    situation_.message = "Saved: notes of " + code;
}

void Desk::run(const TakeBackReading& command) {
    if (coil_in_hand() == nullptr) return;
    const std::string coil = coil_in_hand()->code;
    const auto done = app::withdraw_reading(workshop_, *coil_in_hand(), command.field);
    if (!done) {
        form_.typed.problem(command.field) = done.error();
        return;
    }
    form_.typed.problem(command.field).reset();
    form_.chosen_class.clear();
    refresh(situation_.in_hand->coil.id);
    form_.typed.text(command.field) = kept_texts().text(command.field);
    form_.rewritten = command.field;
    go_to(form_, command.field);
    situation_.message = "Taken back: the last " + spoken(command.field) + " of " + coil;
}

void Desk::run(const TakeBackOdd& command) {
    if (coil_in_hand() == nullptr) return;
    const Coil coil = *coil_in_hand();
    const auto done = app::withdraw_reading(workshop_, coil, command.field, command.reading);
    if (!done) {
        form_.typed.problem(command.field) = done.error();
        return;
    }
    refresh(coil.id);
    situation_.message = "Taken back: the " + spoken(command.field) + " of " + coil.code +
                         " that was far from the others";
}

// The fields show what is kept now.
void Desk::run(const CorrectUnits&) {
    if (coil_in_hand() == nullptr || !situation_.in_hand->verdict.mixup) return;
    const Coil coil = *coil_in_hand();
    const UnitMixup mixup = *situation_.in_hand->verdict.mixup;
    const auto fields = mixed_up_fields(situation_.in_hand->values, mixup);
    const auto done = app::correct_units(workshop_, coil, fields, mixup.noted_as_grains);
    if (!done) {
        situation_.failure = words_of(done.error());
        return;
    }
    refresh(coil.id);
    for (const ReadingField field : fields) {
        form_.typed.text(field) = kept_texts().text(field);
        form_.typed.problem(field).reset();
        if (form_.spot == field) form_.rewritten = field;
    }
    situation_.message = fmt::format("Corrected: {} was weighed in {}", coil.code,
                                     mixup.noted_as_grains ? "grams" : "grains");
}

// Hundredths, as a hand stopwatch shows them; how sure the hand is, the stopwatch of the catalogue
// says.
void Desk::run(const PressStopwatch&) {
    if (coil_in_hand() == nullptr) return;
    if (!watch_started_) {
        watch_started_ = clock_();
        situation_.watch = Duration{};
        go_to(form_, ReadingField::sink_time);
        return;
    }
    const std::chrono::duration<double> run = clock_() - *watch_started_;
    form_.typed.text(ReadingField::sink_time) = fmt::format("{:.2f}", run.count());
    form_.rewritten = ReadingField::sink_time;
    run_down();
    go_to(form_, ReadingField::sink_time);
    situation_.message = "Stopped. Enter saves the time";
}

void Desk::run(const DropStopwatch&) {
    run_down();
}

void Desk::run_down() {
    watch_started_.reset();
    situation_.watch.reset();
}

}  // namespace coilbook::bench::bench_page
