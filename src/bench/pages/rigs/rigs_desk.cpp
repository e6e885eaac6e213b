#include "bench/pages/rigs/rigs_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "app/custody.h"
#include "app/labels.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::rigs_page {
namespace {

EntryForm entry_for(const Rig* rig) {
    EntryForm form;
    form.title = rig == nullptr ? "A new rig" : "Rig " + rig->code;
    const auto add = [&](const char* id, const char* label, const char* hint,
                         const std::string& typed) {
        form.fields.push_back({.id = id, .label = label, .hint = hint, .typed = typed});
    };
    const Rig words = rig == nullptr ? Rig{.id = Id<Rig>::make({}, {}),
                                           .code = {},
                                           .name = {},
                                           .line_size = {},
                                           .rod = {},
                                           .reel = {},
                                           .backing = {},
                                           .running_line = {},
                                           .notes = {},
                                           .made_at = {}}
                                     : *rig;
    add("name", "What you call it", "such as: blue two-hander", words.name);
    add("code", "Code on its label", rig == nullptr ? "empty: one is given" : "", words.code);
    add("size", "Line size that the rod casts", "a number, or empty",
        words.line_size ? name_of(*words.line_size) : "");
    add("rod", "Rod", "such as: 13 ft", words.rod);
    add("reel", "Reel", "", words.reel);
    add("backing", "Backing", "", words.backing);
    add("running line", "Running line", "", words.running_line);
    add("notes", "Notes", "", words.notes);
    return form;
}

}  // namespace

void Desk::read() {
    const auto& rigs = inventory().rigs();
    if (rig_at() == nullptr) {
        form_.at = rigs.empty() ? std::optional<Id<Rig>>() : rigs.front().id;
        form_.part.reset();
    }
    parts_.clear();
    tips_.clear();
    place_.clear();
    if (const auto* rig = rig_at()) {
        parts_ = app::parts_of(inventory(), *rig);
        if (rig->line_size) tips_ = app::tips_for(inventory(), *rig->line_size);
        const auto lines = app::custody_of(workshop(), inventory(), rig->code);
        place_ = inventory().words_for(inventory().custody().place_of(Thing(rig->id)));
        if (lines && !lines->empty()) {
            place_ += fmt::format(" since {} UTC", app::minute_of(lines->front().at));
        }
    }
    if (part_at() == nullptr) form_.part.reset();
    is_stale_ = true;
}

void Desk::refresh() {
    changed();
    read();
}

const Rig* Desk::rig_at() {
    return form_.at ? inventory().rig(*form_.at) : nullptr;
}

const app::RigPart* Desk::part_at() const {
    if (!form_.part) return nullptr;
    const auto found = std::ranges::find(parts_, *form_.part, &app::RigPart::coil);
    return found == parts_.end() ? nullptr : &*found;
}

void Desk::go_to(const Id<Rig>& rig) {
    if (form_.at != rig) form_.part.reset();
    form_.at = rig;
    form_.scrolls = true;
    form_.is_asked_to_retire = false;
    read();
}

template <class T>
bool Desk::done(const Result<T>& result) {
    if (!result) {
        code_error_ = said_here(result.error());
        message_.clear();
        return false;
    }
    code_error_.clear();
    refresh();
    return true;
}

void Desk::run(const EnterCode& command) {
    code_error_.clear();
    if (trimmed(command.code).empty()) return;
    if (form_.strings) {
        put_on(command.code, *form_.strings);
    } else {
        find(command.code);
    }
    if (!code_error_.empty()) return;
    form_.code.clear();
    form_.is_rewritten = true;
}

void Desk::find(const std::string& code) {
    const auto thing = inventory().thing_called(code);
    if (!thing) {
        code_error_ = said_here(thing.error());
        return;
    }
    if (const auto* rig = std::get_if<Id<Rig>>(&*thing)) {
        message_.clear();
        return go_to(*rig);
    }
    const auto coil = std::get<Id<Coil>>(*thing);
    const auto place = inventory().custody().place_of(*thing);
    if (!place.rig) {
        trip_ = coil;
        return;
    }
    go_to(*place.rig);
    form_.part = coil;
    message_ = inventory().code_of(*thing) + " is " + inventory().words_for(place);
}

void Desk::put_on(const std::string& code, RigRole role) {
    const auto* rig = rig_at();
    if (rig == nullptr) return;
    const std::string onto = rig->code;
    if (!done(app::string_rig(workshop(), *rig, {std::string(trimmed(code))}, role))) return;
    message_ = role == RigRole::wallet
                   ? fmt::format("{} is in the wallet of {}", trimmed(code), onto)
                   : fmt::format("{} is on {} as its {}", trimmed(code), onto, name_of(role));
    if (role != RigRole::wallet) form_.strings.reset();  // there is one of it
}

void Desk::run(const ChooseRig& command) {
    form_.strings.reset();
    code_error_.clear();
    go_to(command.rig);
}

void Desk::run(const StepRig& command) {
    const auto& rigs = inventory().rigs();
    if (rigs.empty()) return;
    const auto here =
        std::ranges::find(rigs, form_.at, [](const Rig& rig) { return std::optional(rig.id); });
    const auto at = here == rigs.end() ? 0 : here - rigs.begin() + command.step;
    run(ChooseRig{
        rigs[static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(at, 0, std::ssize(rigs) - 1))]
            .id});
}

void Desk::run(const StepPart& command) {
    if (parts_.empty()) return;
    const auto* now = part_at();
    const auto at = now == nullptr ? (command.step > 0 ? 0 : std::ssize(parts_) - 1)
                                   : now - parts_.data() + command.step;
    form_.part =
        parts_[static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(at, 0, std::ssize(parts_) - 1))]
            .coil;
}

void Desk::run(const ChangeTip& command) {
    const auto* rig = rig_at();
    const auto* part = part_at();
    if (rig == nullptr) return;
    const auto changed_tip = app::change_tip(
        workshop(), *rig, command.is_this_part && part != nullptr ? part->code : std::string());
    if (!done(changed_tip)) return;
    message_ = changed_tip->on + " is on";
    if (changed_tip->off) message_ += ", " + *changed_tip->off + " is in the wallet";
}

void Desk::run(const TakeOut&) {
    const auto* part = part_at();
    if (part == nullptr) return;
    const std::string code = part->code;
    if (!done(app::hand_over(workshop(), {Whereabouts::bin, {}, {}, {}, {code}}))) return;
    message_ = code + " is in the bin";
}

void Desk::run(const BeginEntry& command) {
    if (!command.is_new && rig_at() == nullptr) return;
    form_.entry_is_new = command.is_new;
    form_.entry = entry_for(command.is_new ? nullptr : rig_at());
    form_.strings.reset();
    code_error_.clear();
}

void Desk::run(const SaveEntry&) {
    if (!form_.entry) return;
    const auto words = [&](std::string_view id) {
        return std::string(trimmed(typed_in(*form_.entry, id)));
    };
    std::optional<LineSize> size;
    if (const auto typed = words("size"); !typed.empty()) {
        const auto read_size = line_size_from(typed);
        if (!read_size) return refuse(*form_.entry, "size", said_here(read_size.error()));
        size = *read_size;
    }
    const auto fail = [&](const Problem& problem) {
        refuse(*form_.entry, problem.field, said_here(problem));
    };
    std::string code = words("code");
    if (form_.entry_is_new) {
        const auto added =
            app::add_rig(workshop(), {code, words("name"), size, words("rod"), words("reel"),
                                      words("backing"), words("running line"), words("notes")});
        if (!added) return fail(added.error());
        form_.at = added->id;
        form_.part.reset();
        form_.scrolls = true;
        code = added->code;
        message_ = "Added: rig " + code;
    } else {
        const auto* rig = rig_at();
        if (rig == nullptr) return;
        const Rig told{.id = rig->id,
                       .code = code,
                       .name = words("name"),
                       .line_size = size,
                       .rod = words("rod"),
                       .reel = words("reel"),
                       .backing = words("backing"),
                       .running_line = words("running line"),
                       .notes = words("notes"),
                       .made_at = rig->made_at};
        if (told != *rig) {
            const auto changed_rig = app::change_rig(workshop(), told);
            if (!changed_rig) return fail(changed_rig.error());
        }
        message_ = "Saved: rig " + code;
    }
    form_.entry.reset();
    form_.frames_to_focus = frames_to_take_focus;
    refresh();
}

void Desk::run(const RetireRig&) {
    const auto* rig = rig_at();
    if (rig == nullptr) return;
    if (!form_.is_asked_to_retire) {
        form_.is_asked_to_retire = true;
        message_ = "Once more retires " + rig->code + " for good; its code becomes free.";
        return;
    }
    form_.is_asked_to_retire = false;
    const std::string code = rig->code;
    if (!done(app::hand_over(workshop(), {Whereabouts::retired, {}, {}, {}, {code}}))) return;
    message_ = "Retired: rig " + code;
}

void Desk::run(const SaveLabel&) {
    const auto* rig = rig_at();
    if (rig == nullptr) return;
    const auto file = app::save_label(workshop(), rig->code);
    if (!file) {
        code_error_ = said_here(file.error());
        return;
    }
    message_ = "Saved the label, 62 x 29 mm: " + file->string();
}

}  // namespace coilbook::bench::rigs_page
