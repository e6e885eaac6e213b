// What was measured, and where the chosen figure comes from.
#include <imgui.h>

#include <algorithm>

#include "bench/pages/coil/coil_screen.h"
#include "bench/widgets/card.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::coil_page {
namespace {

// Gives whether it was clicked.
bool fact_row(const Look& look, const FactRow& fact, float width) {
    const Theme& theme = *look.theme;
    const float height = look.px(35);
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + width, low.y + height};
    const bool clicked = ImGui::InvisibleButton("fact", {width, height});
    note_item(look, "fact " + fact.name, fact.value);
    help_on_item(look, fact.help);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (fact.is_chosen || ImGui::IsItemHovered()) {
        list.AddRectFilled(low, high, ink(theme.raised), look.px(6));
    }
    if (fact.is_chosen) list.AddRect(low, high, ink(theme.accent), look.px(6), 0, look.px(2));
    ImFont* small = look.fonts.text;
    put(list, small, {low.x + look.px(10), low.y + (height - small->FontSize) / 2},
        ink(theme.muted), fact.name);
    ImFont* font = fact.is_known ? look.fonts.strong : look.fonts.text;
    put(list, font,
        {high.x - look.px(10) - extent(font, fact.value).x, low.y + (height - font->FontSize) / 2},
        ink(fact.is_known ? theme.text : theme.muted), fact.value);
    return clicked;
}

// A paragraph of that width.
void wrapped_to(const Look& look, ImFont* font, float width, const std::string& words) {
    line(look, font, in_lines(font, words, width));
}

void draw_readings(const Look& look, const SourceView& source) {
    if (source.readings.empty()) return;
    line(look, look.fonts.small, "The readings that it rests on", Tone::muted);
    const float left = ImGui::GetCursorPosX();
    const float width = ImGui::GetContentRegionAvail().x;
    const float written = look.px(114), instrument = width - look.px(126);
    for (const auto& each : source.readings) {
        const float y = ImGui::GetCursorPosY();
        line_within(look, look.fonts.text, written - look.px(8), each.what);
        ImGui::SetCursorPos({left + instrument, y});
        line_within(look, look.fonts.small, width - instrument, each.instrument, Tone::muted);
        ImGui::SetCursorPos({left + written, y});
        const GroupScope group;
        wrapped_to(look, look.fonts.strong, instrument - written - look.px(8), each.written);
    }
}

void draw_budget(const Look& look, const SourceView& source) {
    if (source.budget.empty()) return;
    const Theme& theme = *look.theme;
    line(look, look.fonts.small, source.budget_title, Tone::muted);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    ImFont* font = look.fonts.text;
    const float height = font->FontSize + look.px(6);
    const float name = look.px(166), amount = look.px(56);
    const float bar = ImGui::GetContentRegionAvail().x - name - amount;
    for (const auto& part : source.budget) {
        const ImVec2 low = ImGui::GetCursorScreenPos();
        ImGui::Dummy({name + bar + amount, height});
        note_item(look, "due to " + part.origin, part.amount);
        help_on_item(look, source.budget_help);
        put(list, font, {low.x, low.y + look.px(3)}, ink(theme.text), part.origin);
        const float top = low.y + look.px(5), bottom = low.y + height - look.px(5);
        const float from = low.x + name;
        list.AddRectFilled({from, top}, {from + bar, bottom}, ink(theme.raised), look.px(4));
        const float long_as = std::max(bar * static_cast<float>(part.share), look.px(3));
        list.AddRectFilled({from, top}, {from + long_as, bottom}, ink(theme.series[0]), look.px(4));
        put(list, font,
            {low.x + name + bar + amount - extent(font, part.amount).x, low.y + look.px(3)},
            ink(theme.text), part.amount);
    }
}

}  // namespace

void draw_facts(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "facts", width, height, "What was measured",
                    "± one standard deviation (k = 1)");
    if (!at.view.has_coil) return;
    {
        const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(1)});
        for (std::size_t row = 0; row < at.view.facts.size(); ++row) {
            const IdScope id(static_cast<int>(row));
            if (fact_row(look, at.view.facts[row], ImGui::GetContentRegionAvail().x)) {
                at.form.fact = row;
            }
        }
    }
    const SourceView& source = at.view.source;
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    ImGui::Dummy({1, look.px(2)});
    line(look, look.fonts.strong, source.title);
    note_item(look, "source", source.title);
    if (!source.lacks.empty()) {
        wrapped(look, look.fonts.text, source.lacks, Tone::muted);
        return;
    }
    wrapped(look, look.fonts.text, source.formula);
    draw_readings(look, source);
    draw_budget(look, source);
    line(look, look.fonts.small, "What it stands on", Tone::muted);
    wrapped(look, look.fonts.small, source.basis, Tone::muted);
}

}  // namespace coilbook::bench::coil_page
