// What is known about the chosen class.
#include <imgui.h>

#include <algorithm>
#include <array>
#include <string>

#include "bench/pages/library/library_actions.h"
#include "bench/pages/library/library_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::library_page {
namespace {

void draw_title(const Look& look, const AboutView& about) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.title;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_mark(*ImGui::GetWindowDrawList(), about.mark, at.x + look.px(8), at.y + font->FontSize / 2,
              look.px(7.5F), theme.series[about.series % theme.series.size()], theme.card);
    ImGui::SetCursorScreenPos({at.x + look.px(26), at.y});
    line(look, font, about.title);
    note_item(look, "about", about.title);
    ImGui::SameLine(0, look.px(12));
    const float lower = font->Ascent - look.fonts.text->Ascent;
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + lower);
    line_within(look, look.fonts.text, ImGui::GetContentRegionAvail().x, about.kind, Tone::muted);
}

void draw_figures(const Look& look, const AboutView& about) {
    ImFont* font = look.fonts.text;
    const float width = ImGui::GetContentRegionAvail().x;
    const float name = look.px(146), change = look.px(72);
    const float value = std::min((width - name - change) / 2, look.px(130));
    const float left = ImGui::GetCursorPosX();
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    const auto row = [&](const FigureRow& figure, ImFont* type, Tone tone) {
        const float y = ImGui::GetCursorPosY();
        const ImVec2 low = ImGui::GetCursorScreenPos();
        help_on(look, low.x, low.y, low.x + width, low.y + type->FontSize, figure.help);
        line_within(look, look.fonts.small, name - look.px(6), figure.name, Tone::muted);
        ImGui::SetCursorPos({left + name, y});
        line_within(look, type, about.has_learned ? value : width - name, figure.built_in,
                    about.has_learned ? Tone::muted : tone);
        if (!about.has_learned) return;
        ImGui::SetCursorPos({left + name + value, y});
        line_within(look, type, value, figure.now, tone);
        ImGui::SetCursorPos({left + name + 2 * value, y});
        line_within(look, type, change, figure.change, tone);
    };
    if (about.has_learned) {
        row({"", "built in", "now", "moved"}, look.fonts.small, Tone::muted);
    }
    for (const FigureRow& figure : about.figures) row(figure, font, Tone::normal);
}

// A mark, and beside it a paragraph.
void draw_point(const Look& look, Mark mark, Tone tone, const std::string& words) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_mark(*ImGui::GetWindowDrawList(), mark, at.x + look.px(8),
              at.y + look.fonts.text->FontSize / 2 + look.px(1), look.px(6.5F),
              colour_of(tone, *look.theme), look.theme->card);
    ImGui::SetCursorScreenPos({at.x + look.px(26), at.y});
    const GroupScope group;
    wrapped(look, look.fonts.text, words);
}

void draw_doubts(const Look& look, const AboutView& about, Outbox<Command>& outbox) {
    bool is_first = true;
    for (const DoubtRow& doubt : about.doubts) {
        draw_point(look, Mark::warning, Tone::warn, doubt.words);
        const IdScope id(doubt.coil.text().c_str());
        ImGui::SetCursorPosX(ImGui::GetCursorPosX() + look.px(26));
        const std::string name = "take back " + doubt.code;
        if (button(look, {name, doubt.button, is_first ? "Ctrl T" : ""}, Weight::plain, 0,
                   look.px(38))) {
            outbox.post(TakeBack{doubt.coil});
        }
        is_first = false;
    }
    if (!about.remedy.empty()) wrapped(look, look.fonts.text, about.remedy);
}

// What can be done to it.
void draw_changes(const Look& look, const View& view, Form& form, Outbox<Command>& outbox) {
    if (!view.is_own) return;
    const float end = ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x;
    struct Change {
        const char *name, *label, *key;
    };
    constexpr std::array changes{Change{"change class", "Change", "Ctrl E"},
                                 Change{"split class", "Split", "Ctrl D"},
                                 Change{"join classes", "Join", "Ctrl J"}};
    bool is_first = true;
    for (const auto& each : changes) {
        const float wide = extent(look.fonts.text, each.label).x +
                           extent(look.fonts.small, each.key).x + look.px(42);
        if (!is_first) {
            ImGui::SameLine();
            if (ImGui::GetCursorPosX() + wide > end) ImGui::NewLine();
        }
        if (button(look, {each.name, each.label, each.key}, Weight::plain, wide, look.px(34))) {
            perform(each.name, view, form, outbox);
        }
        is_first = false;
    }
}

}  // namespace

void draw_about(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                float width, float height) {
    const Card card(look, "about card", width, height);
    if (!view.about) {
        wrapped(look, look.fonts.text,
                view.list.rows.empty() ? view.list.nothing : "Choose a class in the list.",
                Tone::muted);
        return;
    }
    const AboutView& about = *view.about;
    draw_title(look, about);
    draw_changes(look, view, form, outbox);
    draw_doubts(look, about, outbox);
    draw_figures(look, about);
    for (const std::string& words : about.learning) wrapped(look, look.fonts.text, words);
    if (!about.fishes_like.empty()) {
        draw_point(look, Mark::alike, Tone::good, about.fishes_like);
    }
    if (!about.basis.empty()) {
        line(look, look.fonts.strong, "Where the built-in figures come from");
        wrapped(look, look.fonts.text, about.basis, Tone::muted);
    }
}

}  // namespace coilbook::bench::library_page
