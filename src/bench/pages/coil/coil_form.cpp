#include "bench/pages/coil/coil_form.h"

#include "base/text.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::coil_page {

void go_to(Form& form, Spot spot) {
    form.spot = spot;
    form.frames_to_focus = frames_to_take_focus;
}

std::optional<Wear> condition_typed(const std::string& text) {
    const auto wanted = lower_ascii(trimmed(text));
    if (wanted.empty()) return std::nullopt;
    std::optional<Wear> found;
    for (const Wear wear : all_wears) {
        if (name_of(wear) == wanted) return wear;
        if (!name_of(wear).starts_with(wanted)) continue;
        if (found) return std::nullopt;
        found = wear;
    }
    return found;
}

void enter_code(Form& form, Outbox<Command>& outbox) {
    if (trimmed(form.code).empty()) return;
    outbox.post(EnterCode{std::string(trimmed(form.code))});
}

void enter_condition(Form& form, Outbox<Command>& outbox) {
    if (trimmed(form.condition).empty()) return go_to(form, Spot::code);
    const auto wear = condition_typed(form.condition);
    if (!wear) {
        // A scanned code goes to its coil from anywhere; the desk says if it is none.
        outbox.post(EnterCode{std::string(trimmed(form.condition))});
        return;
    }
    pick_condition(form, *wear);
}

void pick_condition(Form& form, Wear wear) {
    form.condition = std::string(name_of(wear));
    form.problem.reset();
    form.rewritten = Spot::condition;
    go_to(form, Spot::condition_note);
}

void enter_condition_note(Form& form, Outbox<Command>& outbox) {
    const auto wear = condition_typed(form.condition);
    if (!wear) return go_to(form, Spot::condition);
    outbox.post(NoteCondition{*wear, std::string(trimmed(form.condition_note))});
}

void enter_photograph(Form& form, Outbox<Command>& outbox) {
    if (trimmed(form.photograph).empty()) return go_to(form, Spot::code);
    outbox.post(AddPhotograph{std::string(trimmed(form.photograph))});
}

}  // namespace coilbook::bench::coil_page
