#include "bench/shell/finder.h"

#include <imgui.h>

#include <algorithm>
#include <sstream>
#include <utility>

#include "base/text.h"
#include "bench/widgets/field.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

std::vector<std::string> words_in(std::string_view text) {
    std::istringstream stream{lower_ascii(text)};
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
}

// One action: what it does and its key. Gives whether it was clicked.
bool action_row(const Look& look, const Action& action, bool is_at, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const ImVec2 high{low.x + width, low.y + height};
    const bool clicked = ImGui::InvisibleButton("row", {width, height}) && action.is_possible;
    note_item(look, action.name, action.says);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (is_at || ImGui::IsItemHovered()) {
        list.AddRectFilled(low, high, ink(theme.raised), look.px(7));
    }
    if (is_at) list.AddRect(low, high, ink(theme.accent), look.px(7), 0, look.px(2));
    const float pad = look.px(12);
    const std::string chord = action.chord.key == 0 ? "" : name_of(action.chord);
    const float chord_wide = extent(look.fonts.small, chord).x;
    const float baseline = low.y + (height - look.fonts.text->FontSize) / 2;
    put(list, look.fonts.text, {low.x + pad, baseline},
        ink(action.is_possible ? theme.text : theme.muted),
        cut_to(look.fonts.text, action.says, width - chord_wide - 3 * pad));
    put(list, look.fonts.small,
        {high.x - pad - chord_wide, baseline + look.fonts.text->Ascent - look.fonts.small->Ascent},
        ink(theme.muted), chord);
    return clicked;
}

}  // namespace

std::vector<Action> matching(const std::vector<Action>& actions, std::string_view typed) {
    const auto wanted = words_in(typed);
    std::vector<Action> found;
    for (const Action& action : actions) {
        const auto words = words_in(action.says);
        const bool fits = std::ranges::all_of(wanted, [&](const std::string& begin) {
            return std::ranges::any_of(
                words, [&](const std::string& word) { return word.starts_with(begin); });
        });
        if (fits) found.push_back(action);
    }
    std::ranges::stable_partition(found, &Action::is_possible);
    return found;
}

void Finder::open() {
    is_open_ = true;
    is_emptied_ = true;
    typed_.clear();
    typed_before_.clear();
    at_ = 0;
    frames_to_focus_ = frames_to_take_focus;
}

std::string Finder::draw(const Look& look, const std::vector<Action>& actions) {
    if (!is_open_) return {};
    const ImVec2 room = ImGui::GetIO().DisplaySize;
    const float width = std::min(look.px(640), room.x - look.px(32));
    const float height = std::min(look.px(560), room.y - look.px(32));
    ImGui::SetNextWindowPos({(room.x - width) / 2, (room.y - height) / 3});
    ImGui::SetNextWindowSize({width, height});
    const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(16), look.px(14)});
    const ColourScope ground(ImGuiCol_WindowBg, look.theme->card);
    const ColourScope edge(ImGuiCol_Border, look.theme->accent);
    const StyleScope line_width(ImGuiStyleVar_WindowBorderSize, look.px(2));
    ImGui::Begin("everything", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
    std::string chosen;
    const auto choose = [&](const Action& action) {
        chosen = action.name;
        is_open_ = false;
    };
    const FieldText text{.id = "find action",
                         .label = "Everything that you can do here: type a few letters of it",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "such as: confirm",
                         .rewritten = std::exchange(is_emptied_, false)};
    const auto field = number_field(look, text, {.field_width = ImGui::GetContentRegionAvail().x},
                                    typed_, frames_to_focus_ > 0);
    if (frames_to_focus_ > 0) --frames_to_focus_;
    // Only now, since letters and Enter may come within one frame.
    const auto found = matching(actions, typed_);
    if (typed_ != typed_before_) at_ = 0;
    typed_before_ = typed_;
    const std::size_t last = found.empty() ? 0 : found.size() - 1;
    at_ = std::min(at_, last);
    const auto step_to = [&](std::size_t line) {
        at_ = line;
        scrolls_ = true;
    };
    if (pressed(plain(key::down))) step_to(std::min(at_ + 1, last));
    if (pressed(plain(key::up))) step_to(at_ == 0 ? 0 : at_ - 1);
    if (!field.active && frames_to_focus_ == 0 && !ImGui::IsAnyMouseDown())
        frames_to_focus_ = frames_to_take_focus;
    if (field.entered && !found.empty() && found[at_].is_possible) choose(found[at_]);
    {
        const ChildScope lines("actions", {0, 0}, false);
        const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(2)});
        if (found.empty()) wrapped(look, look.fonts.text, "Nothing of that name.", Tone::muted);
        for (std::size_t line = 0; line < found.size(); ++line) {
            const IdScope id(static_cast<int>(line));
            if (line == at_ && scrolls_) {
                ImGui::SetScrollFromPosY(ImGui::GetCursorScreenPos().y - ImGui::GetWindowPos().y,
                                         0.5F);
            }
            if (action_row(look, found[line], line == at_, look.px(38))) choose(found[line]);
        }
        scrolls_ = false;
    }
    const bool is_left = ImGui::IsMouseClicked(0) &&
                         !ImGui::IsWindowHovered(ImGuiHoveredFlags_RootAndChildWindows |
                                                 ImGuiHoveredFlags_AllowWhenBlockedByActiveItem);
    ImGui::End();
    if (is_left || pressed(plain(key::escape)) || pressed(plain(key::f1))) is_open_ = false;
    return chosen;
}

}  // namespace coilbook::bench
