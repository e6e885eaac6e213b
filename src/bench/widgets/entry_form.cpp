#include "bench/widgets/entry_form.h"

#include <imgui.h>

#include <algorithm>

#include "bench/widgets/field.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {

const std::string& typed_in(const EntryForm& form, std::string_view id) {
    return std::ranges::find(form.fields, id, &EntryField::id)->typed;
}

void refuse(EntryForm& form, std::string_view id, const std::string& error) {
    for (auto& field : form.fields) field.error.clear();
    form.error.clear();
    const auto found = std::ranges::find(form.fields, id, &EntryField::id);
    form.frames_to_focus = frames_to_take_focus;
    if (found == form.fields.end()) {
        form.error = error;
        return;
    }
    found->error = error;
    form.at = static_cast<std::size_t>(found - form.fields.begin());
}

bool has_typed(const EntryForm& form) {
    return std::ranges::any_of(form.fields,
                               [](const EntryField& field) { return !field.typed.empty(); });
}

void go_on(EntryForm& form, int by) {
    const int last = static_cast<int>(form.fields.size()) - 1;
    form.at = static_cast<std::size_t>(std::clamp(static_cast<int>(form.at) + by, 0, last));
    form.frames_to_focus = frames_to_take_focus;
}

bool draw_entry_form(const Look& look, EntryForm& form) {
    const IdScope id(form.title.c_str());
    line(look, look.fonts.strong, form.title);
    bool is_complete = false;
    const float width = ImGui::GetContentRegionAvail().x;
    for (std::size_t at = 0; at < form.fields.size(); ++at) {
        EntryField& field = form.fields[at];
        const FieldText text{.id = field.id,
                             .label = field.label,
                             .unit = {},
                             .note = field.note,
                             .error = field.error,
                             .hint = field.hint};
        const bool focus = form.at == at && form.frames_to_focus > 0;
        if (focus) scroll_to_row(look.px(76));
        const auto drawn = number_field(look, text, {.field_width = width}, field.typed, focus);
        if (drawn.active && form.frames_to_focus == 0) form.at = at;
        if (!drawn.entered) continue;
        if (at + 1 == form.fields.size()) {
            is_complete = true;
        } else {
            form.at = at;
            go_on(form, 1);
        }
    }
    if (!form.error.empty()) wrapped(look, look.fonts.small, form.error, Tone::bad);
    return is_complete;
}

}  // namespace coilbook::bench
