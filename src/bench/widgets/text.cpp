#include "bench/widgets/text.h"

#include <imgui.h>

#include <string>

#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"
#include "bench/widgets/witness.h"

namespace coilbook::bench {
namespace {

ImVec2 size_of(std::string_view text) {
    return extent(ImGui::GetFont(), text);
}
void unformatted(std::string_view text) {
    const char* end = text.data() + text.size();
    text.empty() ? ImGui::TextUnformatted("") : ImGui::TextUnformatted(text.data(), end);
}
}  // namespace

Colour colour_of(Tone tone, const Theme& theme) {
    switch (tone) {
        case Tone::normal:
            return theme.text;
        case Tone::muted:
            return theme.muted;
        case Tone::good:
            return theme.good;
        case Tone::warn:
            return theme.warn;
        case Tone::bad:
            return theme.bad;
        case Tone::accent:
            return theme.accent;
    }
    return theme.text;
}

void line(const Look& look, ImFont* font, std::string_view text, Tone tone) {
    const FontScope type(font);
    const ColourScope colour(ImGuiCol_Text, colour_of(tone, *look.theme));
    unformatted(text);
}

void wrapped(const Look& look, ImFont* font, std::string_view text, Tone tone) {
    const FontScope type(font);
    const ColourScope colour(ImGuiCol_Text, colour_of(tone, *look.theme));
    unformatted(in_lines(font, text, ImGui::GetContentRegionAvail().x));
}

void line_ending_at(const Look& look, ImFont* font, float right, std::string_view text, Tone tone) {
    const FontScope type(font);
    const ColourScope colour(ImGuiCol_Text, colour_of(tone, *look.theme));
    ImGui::SetCursorPosX(right - size_of(text).x);
    unformatted(text);
}

void line_within(const Look& look, ImFont* font, float width, std::string_view text, Tone tone) {
    const FontScope type(font);
    const ColourScope colour(ImGuiCol_Text, colour_of(tone, *look.theme));
    unformatted(cut_to(font, text, width));
}

void note_item(const Look& look, std::string_view name, std::string_view says) {
    if (look.witness == nullptr) return;
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    look.witness->note(name, {low.x, low.y, high.x, high.y, std::string(says),
                              ImGui::IsItemVisible(), ImGui::IsItemActive()});
}

}  // namespace coilbook::bench
