#include "bench/widgets/field.h"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>

#include "bench/widgets/keys.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

struct Box {
    ImVec2 low, high;
    [[nodiscard]] float width() const { return high.x - low.x; }
    [[nodiscard]] float height() const { return high.y - low.y; }
};

// The height of a field of the usual size.
float usual_height(const Look& look) {
    return look.px(42);
}

// Draws the label before or above the field and leaves the cursor where the field begins.
void draw_label(const Look& look, const FieldText& text, const FieldPlace& place, float height) {
    const Theme& theme = *look.theme;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float mark = look.px(22);
    const bool above = place.label_width <= 0;
    const float middle = above ? at.y + look.fonts.small->FontSize / 2 : at.y + height / 2;
    ImFont* font = above ? look.fonts.small : look.fonts.text;
    float x = at.x;
    if (text.saved) {
        draw_mark(list, Mark::check, at.x + look.px(8), middle, look.px(7.5F), theme.good,
                  theme.card);
    } else if (text.wanted) {
        draw_mark(list, Mark::diamond, at.x + look.px(8), middle, look.px(6.5F), theme.accent,
                  theme.card);
    }
    if (!above || text.saved || text.wanted) x += mark;
    const Colour colour = text.wanted ? theme.accent : above ? theme.muted : theme.text;
    if (text.wanted && !above) font = look.fonts.strong;
    put(list, font, {x, middle - font->FontSize / 2}, ink(colour), text.label);
    help_on(look, at.x, middle - font->FontSize / 2, x + extent(font, text.label).x,
            middle + font->FontSize / 2, text.help);
    if (above) {
        ImGui::SetCursorScreenPos({at.x, at.y + look.fonts.small->FontSize + look.px(4)});
    } else {
        ImGui::SetCursorScreenPos({at.x + place.label_width, at.y});
    }
}

void draw_outline(const Look& look, const Box& box, const FieldText& text, bool active) {
    const Theme& theme = *look.theme;
    const Colour colour = active                ? theme.accent
                          : !text.error.empty() ? theme.bad
                                                : theme.field_border;
    const float thick = look.px(active || !text.error.empty() ? 2 : 1);
    ImGui::GetWindowDrawList()->AddRect(box.low, box.high, ink(colour), look.px(7), 0, thick);
}

// The unit, with its baseline on that of the number in the field.
void draw_unit(const Look& look, const Box& box, std::string_view unit) {
    ImFont* font = look.fonts.text;
    const float y = box.low.y + (box.height() - font->FontSize) / 2;
    put(*ImGui::GetWindowDrawList(), font, {box.high.x + look.px(8), y}, ink(look.theme->muted),
        unit);
}

// The words beside the field, from `x` to the right edge, centred on the field, or below it from
// `left` on if they are long. Gives where the row ends.
float draw_words(const Look& look, const Box& box, float left, float x, float right,
                 const FieldText& text) {
    const bool is_wrong = !text.error.empty();
    const std::string_view words = is_wrong ? text.error : text.note;
    if (words.empty()) return box.high.y;
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float mark = is_wrong ? look.px(21) : 0;
    const Colour colour = is_wrong ? theme.bad : theme.muted;
    std::string lines = in_lines(font, words, right - x - mark);
    ImVec2 size = extent(font, lines);
    float y = box.low.y + (box.height() - size.y) / 2;
    if (size.y > box.height() + look.px(2) || size.x > right - x - mark) {
        x = left;  // too long to stand beside it: below it, over the whole width
        lines = in_lines(font, words, right - x - mark);
        size = extent(font, lines);
        y = box.high.y + look.px(3);
    }
    if (is_wrong) {
        draw_mark(list, Mark::warning, x + look.px(8), y + font->FontSize / 2, look.px(6.5F),
                  theme.bad, theme.card);
    }
    put(list, font, {x + mark, y}, ink(colour), lines);
    return std::max(box.high.y, y + size.y);
}

// What a choice does to the text of its field while the field is being edited.
struct Replacement {
    std::string word;
    bool wanted = false;
    bool takes_space = true;  // else a space that is typed is left out
    bool has_left_one_out = false;
};
int replace_text(ImGuiInputTextCallbackData* data) {
    auto& replacement = *static_cast<Replacement*>(data->UserData);
    if (data->EventFlag == ImGuiInputTextFlags_CallbackCharFilter) {
        if (data->EventChar != ' ' || replacement.takes_space) return 0;
        // A key that is held repeats its character: that is one press.
        if (ImGui::GetIO().KeysDownDuration[' '] < 0.2F) replacement.has_left_one_out = true;
        return 1;
    }
    if (replacement.wanted) {
        data->DeleteChars(0, data->BufTextLen);
        if (!replacement.word.empty()) {
            data->InsertChars(0, replacement.word.data(),
                              replacement.word.data() + replacement.word.size());
        }
        data->SelectAll();
        replacement.wanted = false;
    }
    return 0;
}

// The text field itself: padding so that the text stands in the middle of `height`.
bool text_input(const Look& look, const FieldText& text, float width, float height,
                std::string& typed, bool take_focus, Replacement* replacement) {
    ImFont* font = look.fonts.text;
    const FontScope type(font);
    const StyleScope padding(ImGuiStyleVar_FramePadding,
                             {look.px(12), (height - font->FontSize) / 2});
    const StyleScope no_border(ImGuiStyleVar_FrameBorderSize, 0.0F);
    const ColourScope faint(ImGuiCol_TextDisabled, look.theme->muted);
    if (take_focus && !ImGui::IsAnyMouseDown()) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(width);
    const std::string id = "##" + std::string(text.id);
    ImGuiInputTextFlags flags =
        ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll;
    if (replacement != nullptr) {
        flags |= ImGuiInputTextFlags_CallbackAlways | ImGuiInputTextFlags_CallbackCharFilter;
    }
    const bool entered =
        ImGui::InputTextWithHint(id.c_str(), std::string(text.hint).c_str(), &typed, flags,
                                 replacement != nullptr ? replace_text : nullptr, replacement);
    return entered && !ImGui::GetIO().KeyCtrl;  // Ctrl+Enter is the page's
}

// Leaves the cursor below the row. What was drawn by hand is no item: this Dummy makes room for it.
void end_row(ImVec2 start, float right, float bottom) {
    ImGui::SetCursorScreenPos(start);
    ImGui::Dummy({std::max(right - start.x, 1.0F), bottom - start.y});
}

}  // namespace

bool has_lost_keyboard(int& frames_to_focus) {
    if (frames_to_focus > 0) {
        --frames_to_focus;
        return false;
    }
    return !ImGui::IsAnyItemActive() && !ImGui::IsAnyMouseDown();
}

FieldResult number_field(const Look& look, const FieldText& text, const FieldPlace& place,
                         std::string& typed, bool take_focus) {
    const float height = place.height > 0 ? place.height : usual_height(look);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float right = start.x + ImGui::GetContentRegionAvail().x - place.kept_free;
    draw_label(look, text, place, height);
    FieldResult result;
    Replacement rewritten{typed, text.rewritten, text.takes_space, false};
    result.entered =
        text_input(look, text, place.field_width, height, typed, take_focus, &rewritten);
    result.space = rewritten.has_left_one_out;
    const Box box{ImGui::GetItemRectMin(), ImGui::GetItemRectMax()};
    result.active = ImGui::IsItemActive();
    if (result.active && look.help != nullptr && !text.help.empty()) {
        look.help->keyboard_is_here();
    }
    note_item(look, text.id, typed);
    draw_outline(look, box, text, result.active);
    draw_unit(look, box, text.unit);
    const float unit_width = text.unit.empty() && place.label_width <= 0 ? 0 : look.px(46);
    const float bottom = draw_words(look, box, start.x, box.high.x + unit_width, right, text);
    end_row(start, right, bottom);
    return result;
}

FieldResult choice_field(const Look& look, const FieldText& text, const FieldPlace& place,
                         std::span<const std::string_view> words, int picked, std::string& typed,
                         bool take_focus) {
    const Theme& theme = *look.theme;
    const float height = place.height > 0 ? place.height : usual_height(look);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float right = start.x + ImGui::GetContentRegionAvail().x - place.kept_free;
    const int count = static_cast<int>(words.size());
    draw_label(look, text, place, height);

    // Keys and mouse first, so that the field below shows what they did.
    FieldResult result;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const IdScope scope(std::string(text.id).c_str());
    const std::string memory_id = "was active";
    ImGuiStorage& memory = *ImGui::GetStateStorage();
    const ImGuiID was_active_id = ImGui::GetID(memory_id.c_str());
    const bool was_active = memory.GetBool(was_active_id);

    float width = place.field_width;
    const float cell = width / static_cast<float>(std::max(count, 1));
    Replacement replacement;
    int wanted = -1;
    if (was_active && plain_pressed(key::right)) wanted = std::min(picked + 1, count - 1);
    if (was_active && plain_pressed(key::left)) wanted = std::max(picked - 1, 0);
    const bool hovered = ImGui::IsWindowHovered() &&
                         ImGui::IsMouseHoveringRect(low, {low.x + width, low.y + height});
    int under_mouse = -1;
    if (hovered && cell > 0) {
        under_mouse =
            std::clamp(static_cast<int>((ImGui::GetMousePos().x - low.x) / cell), 0, count - 1);
        if (ImGui::IsMouseClicked(0)) {
            wanted = under_mouse;
            result.entered = true;
        }
    }
    if (text.rewritten) replacement = {typed, true};
    if (wanted >= 0) {
        replacement = {std::string(words[static_cast<std::size_t>(wanted)]), true};
        picked = wanted;
    }

    {
        // The text itself is not shown: the words below say it.
        const ColourScope unseen(ImGuiCol_Text, theme.text, 0.0F);
        const ColourScope no_selection(ImGuiCol_TextSelectedBg, theme.text, 0.0F);
        if (text_input(look, text, width, height, typed, take_focus, &replacement)) {
            result.entered = true;
        }
    }
    if (wanted >= 0) typed = std::string(words[static_cast<std::size_t>(wanted)]);
    const Box box{ImGui::GetItemRectMin(), ImGui::GetItemRectMax()};
    result.active = ImGui::IsItemActive();
    if (result.active && look.help != nullptr && !text.help.empty()) {
        look.help->keyboard_is_here();
    }
    memory.SetBool(was_active_id, result.active);
    note_item(look, text.id, typed);

    ImDrawList& list = *ImGui::GetWindowDrawList();
    for (int at = 0; at < count; ++at) {
        const std::string_view word = words[static_cast<std::size_t>(at)];
        const ImVec2 from{box.low.x + cell * static_cast<float>(at), box.low.y};
        const ImVec2 to{from.x + cell, box.high.y};
        const bool is_picked = at == picked;
        ImFont* font = is_picked ? look.fonts.strong : look.fonts.text;
        ImVec2 size = extent(font, word);
        if (size.x > cell - look.px(6)) {
            font = look.fonts.small;
            size = extent(font, word);
        }
        const float inset = look.px(4);
        if (is_picked) {
            list.AddRectFilled({from.x + inset, from.y + inset}, {to.x - inset, to.y - inset},
                               ink(theme.accent), look.px(5));
        } else if (at == under_mouse) {
            list.AddRectFilled({from.x + inset, from.y + inset}, {to.x - inset, to.y - inset},
                               ink(theme.raised), look.px(5));
        }
        put(list, font, {from.x + (cell - size.x) / 2, from.y + (box.height() - size.y) / 2},
            ink(is_picked ? theme.on_accent : theme.text), word);
    }
    draw_outline(look, box, text, result.active);
    const float bottom = draw_words(look, box, start.x, box.high.x + look.px(12), right, text);
    end_row(start, right, bottom);
    return result;
}

}  // namespace coilbook::bench
