// What is left of the work, the group of the coil that the keyboard is on, and the decision.
#include <imgui.h>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "bench/pages/bin/bin_actions.h"
#include "bench/pages/bin/bin_screen.h"
#include "bench/widgets/bar.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bin_page {
namespace {

// The families that a class can have, and a class without one.
constexpr std::array<std::string_view, 3> families{"level line", "matched tip", "sinking leader"};

// One state: its mark and word, how many, and how large a part of the bin.
bool draw_count(const Look& look, const StateCount& count) {
    const Theme& theme = *look.theme;
    const float height = look.px(38), width = ImGui::GetContentRegionAvail().x;
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    const bool clicked = ImGui::InvisibleButton(count.sign.word.c_str(), {width, height});
    note_item(look, "state " + count.sign.word, count.count);
    help_on_item(look, count.help);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (count.is_shown || ImGui::IsItemHovered()) {
        list.AddRectFilled(low, high, ink(theme.raised), look.px(6));
    }
    if (count.is_shown) list.AddRect(low, high, ink(theme.accent), look.px(6), 0, look.px(1.5F));
    const float middle = low.y + look.px(16), pad = look.px(10);
    if (count.state) {
        draw_mark(list, count.sign.mark, low.x + pad + look.px(7), middle, look.px(7),
                  colour_of(count.sign.tone, theme), count.is_shown ? theme.raised : theme.card);
    }
    ImFont* font = look.fonts.text;
    put(list, font, {low.x + pad + look.px(24), middle - font->FontSize / 2}, ink(theme.text),
        count.sign.word);
    put(list, look.fonts.strong,
        {high.x - pad - extent(look.fonts.strong, count.count).x, middle - font->FontSize / 2},
        ink(theme.text), count.count);
    const ImVec2 from{low.x + pad + look.px(24), high.y - look.px(7)},
        to{high.x - pad, high.y - look.px(4)};
    list.AddRectFilled(from, to, ink(theme.border), look.px(1.5F));
    const float share = static_cast<float>(std::clamp(count.share, 0.0, 1.0));
    if (share > 0) {
        list.AddRectFilled(from, {from.x + std::max(share * (to.x - from.x), look.px(3)), to.y},
                           ink(colour_of(count.sign.tone, theme)), look.px(1.5F));
    }
    return clicked;
}

void draw_left(const Look& look, const View& view, Form& form, float height) {
    const Card card(look, "left", 0, height, "What is left");
    {
        const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(3)});
        for (const StateCount& count : view.states) {
            if (draw_count(look, count)) form.state = count.state;
        }
    }
    ImGui::Dummy({1, look.px(2)});
    wrapped(look, look.fonts.small, view.pace, Tone::muted);
    note_item(look, "pace", view.pace);
    help_on_item(look, view.pace_help);
}

void draw_naming(const Look& look, const View& view, Desk& desk) {
    Form& form = desk.form();
    const bool focus = form.spot == Spot::group_name && form.frames_to_focus > 0;
    const float width = ImGui::GetContentRegionAvail().x;
    const FieldText text{.id = "group name",
                         .label = "Name it: Ctrl L, then Enter",
                         .unit = {},
                         .note = {},
                         .error = view.name_error,
                         .hint = "such as: T-30 of the old spool"};
    const auto field = number_field(look, text, {.field_width = width}, form.group_name, focus);
    if (field.active && form.frames_to_focus == 0) form.spot = Spot::group_name;
    const auto picked = std::ranges::find(families, form.group_family);
    const FieldText kind{.id = "group family",
                         .label = "Its family, if you know it",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = {}};
    std::string family = form.group_family;
    const auto choice = choice_field(
        look, kind, {.field_width = width}, families,
        picked == families.end() ? -1 : static_cast<int>(picked - families.begin()), family, false);
    if (choice.entered) form.group_family = family == form.group_family ? "" : family;
    if (field.entered && !form.group_name.empty()) {
        desk.outbox().post(NameGroup{form.group_name, form.group_family});
    }
}

// Where the coils go to, in place of the group.
void draw_handing(const Look& look, const View& view, Desk& desk, float height) {
    const Card card(look, "handing", 0, height, "Hand out");
    Form& form = desk.form();
    wrapped(look, look.fonts.text, view.hand_title);
    note_item(look, "hand title", view.hand_title);
    const FieldText text{.id = "hand to",
                         .label = "Boat, or rig",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "its first letters"};
    const bool focus = form.spot == Spot::hand_to && form.frames_to_focus > 0;
    const float width = ImGui::GetContentRegionAvail().x;
    const auto field = number_field(look, text, {.field_width = width}, form.hand_to, focus);
    if (field.active && form.frames_to_focus == 0) form.spot = Spot::hand_to;
    if (field.entered) desk.outbox().post(HandOut{form.hand_to});
    if (!view.hand_error.empty()) wrapped(look, look.fonts.text, view.hand_error, Tone::bad);
    note_item(look, "hand error", view.hand_error);
    for (const std::string& each : view.hand_choices) {
        if (button(look, {each, each, {}}, Weight::plain, width, look.px(38))) {
            desk.outbox().post(HandOut{each});
        }
    }
    wrapped(look, look.fonts.small, view.hand_note, Tone::muted);
}

void draw_group(const Look& look, const View& view, Desk& desk, float height) {
    const Card card(look, "group", 0, height, "The same line");
    if (view.is_grouping) {
        wrapped(look, look.fonts.text, "Looking for coils that are one line …", Tone::muted);
        return;
    }
    if (!view.is_grouped) {
        wrapped(look, look.fonts.text,
                "Which of these coils are one and the same line, listed or not? All their readings "
                "and how sure these are count.",
                Tone::muted);
        ImGui::Dummy({1, look.px(2)});
        if (button(look, {"find groups", "Find them", "Ctrl G"})) perform("find groups", desk);
        return;
    }
    if (!view.group) {
        wrapped(look, look.fonts.text, "No other coil is the same line as this one.", Tone::muted);
        note_item(look, "group", "none");
        return;
    }
    const GroupView& group = *view.group;
    wrapped(look, look.fonts.strong, group.headline);
    note_item(look, "group", group.headline);
    wrapped(look, look.fonts.text, group.codes);
    if (!group.line.empty()) wrapped(look, look.fonts.text, group.line);
    wrapped(look, look.fonts.text, group.what_it_is,
            group.asks_for_a_name ? Tone::accent : Tone::normal);
    wrapped(look, look.fonts.small, group.certainty, Tone::muted);
    help_on_item(look, group.certainty_help);
    if (group.asks_for_a_name) draw_naming(look, view, desk);
}

}  // namespace

void draw_side(const Look& look, const View& view, Desk& desk, float width, float height) {
    const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
    const ColourScope see_through(ImGuiCol_ChildBg, look.theme->page);
    const ChildScope side("side", {width, height}, false);
    const ColourScope cards(ImGuiCol_ChildBg, look.theme->card);
    const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(16), look.px(14)});
    const float gap = look.px(12), decision = look.px(50);
    const float left = std::min(look.px(316), height * 0.48F);
    draw_left(look, view, desk.form(), left);
    ImGui::SetCursorPosY(left + gap);
    const float room = height - left - 2 * gap - decision;
    if (desk.form().is_handing) {
        draw_handing(look, view, desk, room);
    } else {
        draw_group(look, view, desk, room);
    }
    ImGui::SetCursorPos({0, height - decision});
    if (button(look, {"confirm ready", view.confirm_label, "Ctrl Enter"}, Weight::main, width,
               decision, view.may_confirm)) {
        perform("confirm ready", desk);
    }
}

}  // namespace coilbook::bench::bin_page
