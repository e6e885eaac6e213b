#include "bench/widgets/number_help.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <utility>

#include "bench/widgets/ink.h"
#include "bench/widgets/keys.h"
#include "bench/widgets/type.h"
#include "bench/widgets/witness.h"

namespace coilbook::bench {
namespace {

constexpr auto rest_before_help = std::chrono::milliseconds{500};

// Pressed in this frame, and from now on not any more: fields of the page must not see it.
bool taken(int key) {
    const bool was_pressed = pressed(plain(key));
    if (was_pressed) ImGui::GetIO().KeysDownDuration[key] = 0.01F;
    return was_pressed;
}

}  // namespace

void NumberHelp::walk() {
    if (at_) {
        at_.reset();
    } else {
        at_ = begins_at_;
    }
}

bool NumberHelp::is_waiting() const {
    return !hovered_.empty() && !is_shown_;
}

bool NumberHelp::is_due() const {
    return is_waiting() && clock_() - since_ >= rest_before_help;
}

void NumberHelp::begin() {
    const std::size_t count = places_.size();
    places_.clear();
    under_mouse_.reset();
    begins_at_ = 0;
    if (!at_) return;
    const bool on = taken(key::down) || taken(key::right);
    const bool back = taken(key::up) || taken(key::left);
    if (count > 0 && on) at_ = (*at_ + 1) % count;
    if (count > 0 && back) at_ = (*at_ + count - 1) % count;
    const bool is_typed = !ImGui::GetIO().InputQueueCharacters.empty();
    const bool ends = taken(key::escape) || pressed(plain(key::enter)) || is_typed ||
                      ImGui::IsMouseClicked(0) || ImGui::IsMouseClicked(1);
    if (ends) at_.reset();
}

void NumberHelp::keyboard_is_here() {
    if (!places_.empty()) begins_at_ = places_.size() - 1;
}

bool NumberHelp::number(float left, float top, float right, float bottom, std::string_view words,
                        bool is_in_sight, bool is_hovered) {
    if (words.empty()) return false;
    const bool is_at = at_ == places_.size();
    places_.push_back({left, top, right, bottom, std::string(words)});
    if (is_hovered) under_mouse_ = places_.back();
    return is_at && !is_in_sight;
}

void NumberHelp::draw(const Look& look) {
    const std::string now = under_mouse_ ? under_mouse_->words : std::string();
    const bool moves = ImGui::GetIO().MouseDelta.x != 0 || ImGui::GetIO().MouseDelta.y != 0;
    if (now != hovered_ || (moves && !is_shown_)) since_ = clock_();
    if (now != hovered_) is_shown_ = false;
    hovered_ = now;
    if (at_ && places_.empty()) at_.reset();
    if (at_) {
        at_ = std::min(*at_, places_.size() - 1);
        is_shown_ = !hovered_.empty();
        show(look, places_[*at_],
             fmt::format("{} of {}:  ↓ the next,  ↑ the one before,  Esc or typing ends", *at_ + 1,
                         places_.size()));
        return;
    }
    if (hovered_.empty()) return;
    if (clock_() - since_ >= rest_before_help) is_shown_ = true;
    if (is_shown_) show(look, *under_mouse_, {});
}

void NumberHelp::show(const Look& look, const Place& place, const std::string& way_on) const {
    const Theme& theme = *look.theme;
    ImDrawList& list = *ImGui::GetForegroundDrawList();
    const ImVec2 room = ImGui::GetIO().DisplaySize;
    const float pad = look.px(12), gap = look.px(8), edge = look.px(8);
    const float inside = std::min(look.px(430), room.x - 2 * (pad + edge));
    ImFont *font = look.fonts.text, *small = look.fonts.small;
    const std::string lines = in_lines(font, place.words, inside);
    const ImVec2 size = extent(font, lines);
    const std::string below = in_lines(small, way_on, inside);
    const ImVec2 foot = way_on.empty() ? ImVec2{0, 0} : extent(small, below);
    const float between = way_on.empty() ? 0 : look.px(6);
    const float width = std::max(size.x, foot.x) + 2 * pad;
    const float height = size.y + between + foot.y + 2 * pad;
    const float x = std::clamp(place.left, edge, std::max(edge, room.x - width - edge));
    const bool fits_below = place.bottom + gap + height + edge <= room.y;
    const float y = fits_below ? place.bottom + gap : std::max(edge, place.top - gap - height);
    const float round = look.px(7);
    list.AddRect({place.left - look.px(4), place.top - look.px(3)},
                 {place.right + look.px(4), place.bottom + look.px(3)}, ink(theme.accent), round, 0,
                 look.px(2));
    list.AddRectFilled({x, y}, {x + width, y + height}, ink(theme.card), round);
    list.AddRect({x, y}, {x + width, y + height}, ink(theme.accent), round, 0, look.px(1.5F));
    put(list, font, {x + pad, y + pad}, ink(theme.text), lines);
    put(list, small, {x + pad, y + pad + size.y + between}, ink(theme.muted), below);
    if (look.witness != nullptr) {
        look.witness->note("number help", {x, y, x + width, y + height, place.words, true, false});
    }
}

void help_on_item(const Look& look, std::string_view words) {
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    help_on(look, low.x, low.y, high.x, high.y, words);
}

void help_on(const Look& look, float left, float top, float right, float bottom,
             std::string_view words) {
    if (look.help == nullptr || words.empty()) return;
    const bool is_in_sight = ImGui::IsRectVisible({left, top}, {right, bottom});
    const bool is_hovered =
        ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) &&
        ImGui::IsMouseHoveringRect({left, top}, {right, bottom});
    if (look.help->number(left, top, right, bottom, words, is_in_sight, is_hovered)) {
        ImGui::SetScrollFromPosY(top - ImGui::GetWindowPos().y, 0.5F);
    }
}

}  // namespace coilbook::bench
