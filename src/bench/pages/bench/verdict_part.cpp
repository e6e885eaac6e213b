// The verdict: what the coil is, how sure, why, and what would help; the picture of the classes;
// and the button that ends it.
#include <imgui.h>

#include <algorithm>
#include <array>
#include <string>

#include "bench/pages/bench/bench_screen.h"
#include "bench/widgets/bar.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/keys.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bench_page {
namespace {

void heading(const Look& look, std::string_view words) {
    ImGui::Dummy({1, look.px(4)});
    line(look, look.fonts.strong, words);
}

void draw_headline(const Look& look, const VerdictView& verdict) {
    const float right = ImGui::GetWindowContentRegionMax().x;
    const float certainty = extent(look.fonts.figure, verdict.certainty).x;
    line_within(look, look.fonts.figure, ImGui::GetContentRegionAvail().x - certainty - look.px(16),
                verdict.headline);
    note_item(look, "verdict", verdict.headline);
    ImGui::SameLine();
    line_ending_at(look, look.fonts.figure, right, verdict.certainty, verdict.state.tone);
    note_item(look, "certainty", verdict.certainty);
    if (!verdict.certainty.empty()) help_on_item(look, verdict.certainty_help);
    if (verdict.gist.empty()) return;
    line_within(look, look.fonts.text, ImGui::GetContentRegionAvail().x, verdict.gist, Tone::muted);
    note_item(look, "gist", verdict.gist);
}

// Names and values in two columns, name above value.
void draw_pairs(const Look& look, const char* id, const std::vector<FactRow>& rows) {
    const IdScope scope(id);
    const float start = ImGui::GetCursorPosX();
    const float column = (ImGui::GetContentRegionAvail().x + look.px(12)) / 2;
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(1)});
    for (std::size_t at = 0; at < rows.size(); ++at) {
        const FactRow& row = rows[at];
        const bool second = at % 2 == 1;
        if (second) ImGui::SameLine();
        ImGui::SetCursorPosX(start + (second ? column : 0));
        const GroupScope group;
        const ImVec2 low = ImGui::GetCursorScreenPos();
        line_within(look, look.fonts.small, column - look.px(12), row.name, Tone::muted);
        const ImVec2 value_at = ImGui::GetCursorPos();
        line_within(look, row.is_known ? look.fonts.strong : look.fonts.text, column - look.px(12),
                    row.value, row.is_known ? Tone::normal : Tone::muted);
        note_item(look, row.name, row.value);
        help_on(look, low.x, low.y, low.x + column - look.px(12), ImGui::GetItemRectMax().y,
                row.help);
        if (!row.aside.empty()) {
            ImGui::SameLine();
            ImGui::SetCursorPosY(value_at.y + look.fonts.text->Ascent - look.fonts.small->Ascent);
            line_within(
                look, look.fonts.small,
                start + (second ? column : 0) + column - look.px(12) - ImGui::GetCursorPosX(),
                row.aside, Tone::muted);
        }
        ImGui::Dummy({column - look.px(12), look.px(3)});
    }
}

void draw_flags(const Look& look, const std::vector<FlagRow>& flags) {
    for (const FlagRow& flag : flags) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        draw_mark(*ImGui::GetWindowDrawList(), Mark::warning, at.x + look.px(9),
                  at.y + look.fonts.text->FontSize / 2 + look.px(1), look.px(7.5F),
                  colour_of(flag.tone, *look.theme), look.theme->card);
        ImGui::SetCursorScreenPos({at.x + look.px(26), at.y});
        wrapped(look, look.fonts.text, flag.words, flag.tone);
    }
}

void draw_bars(const Look& look, const VerdictView& verdict, Form& form) {
    const Theme& theme = *look.theme;
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(4)});
    for (std::size_t at = 0; at < verdict.bars.size(); ++at) {
        const BarRow& row = verdict.bars[at];
        const IdScope id(static_cast<int>(at));
        const bool chosen =
            probability_bar(look, {.id = row.class_name.empty() ? "other" : row.class_name,
                                   .name = row.name,
                                   .amount = row.amount,
                                   .share = row.share,
                                   .mark = row.mark,
                                   .colour = theme.series[row.series % theme.series.size()],
                                   .leading = row.leading,
                                   .chosen = row.is_choice,
                                   .help = row.help});
        if (chosen && !row.class_name.empty()) form.chosen_class = row.class_name;
    }
}

void draw_reasons(const Look& look, const VerdictView& verdict) {
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(5)});
    if (!verdict.because.empty()) heading(look, "Why");
    for (const std::string& reason : verdict.because) {
        wrapped(look, look.fonts.text, reason);
        note_item(look, "because", reason);
    }
}

// Words with a mark before them, in as many lines as they need.
void draw_marked(const Look& look, const char* name, Mark mark, Tone tone,
                 const std::string& words) {
    if (words.empty()) return;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_mark(*ImGui::GetWindowDrawList(), mark, at.x + look.px(9),
              at.y + look.fonts.text->FontSize / 2 + look.px(1), look.px(6.5F),
              colour_of(tone, *look.theme), look.theme->card);
    ImGui::SetCursorScreenPos({at.x + look.px(26), at.y});
    wrapped(look, look.fonts.text, words);
    note_item(look, name, words);
}

// What a decision needs, in the order in which it is looked for.
void draw_essentials(const Look& look, const VerdictView& verdict, Form& form,
                     Outbox<Command>& outbox) {
    draw_headline(look, verdict);
    draw_flags(look, verdict.flags);
    if (!verdict.correct_units.empty() &&
        button(look, {"correct units", verdict.correct_units, "Ctrl U"})) {
        outbox.post(CorrectUnits{});
    }
    draw_bars(look, verdict, form);
    ImGui::Dummy({1, look.px(1)});
    draw_marked(look, "fishes like", Mark::alike, Tone::good, verdict.fishes_like);
    // The shape that marks its field among the readings.
    draw_marked(look, "next reading", verdict.is_enough ? Mark::check : Mark::diamond,
                verdict.is_enough ? Tone::good : Tone::accent, verdict.next_reading);
    if (verdict.next_cost.empty()) return;
    ImGui::SetCursorPos(
        {ImGui::GetCursorPosX() + look.px(26), ImGui::GetCursorPosY() - look.px(5)});
    wrapped(look, look.fonts.small, verdict.next_cost, Tone::muted);
    note_item(look, "next cost", verdict.next_cost);
    help_on_item(look, verdict.next_cost_help);
}

// How high the words were in the last frame: as far as a decision needs them, with the facts,
// whole.
struct WordsHeight {
    float essential, with_facts, all;
};

// How high the words may be of `left` pixels that they share with the picture: what the decision
// needs, and of the rest what ends between two parts while the picture keeps its share.
float words_height(const Look& look, float left, const WordsHeight& needs) {
    const float room = left - std::clamp(left * 0.38F, look.px(170), look.px(420));
    if (needs.all <= room) return needs.all;
    if (needs.with_facts <= room) return needs.with_facts;
    return std::min(needs.essential, left - look.px(130));
}

}  // namespace

void draw_decision(const Look& look, const View& view, Outbox<Command>& outbox, float width,
                   float height) {
    const VerdictView& verdict = view.verdict;
    const float gap = look.px(10), next = look.px(152);
    const float main = width - next - gap;
    const bool is_done = verdict.may_take_back && !verdict.confirms;
    if (is_done) {  // what is left to do is the label, and the next coil
        const float label = look.px(116), back = look.px(104);
        if (button(look, {"next coil", "Next coil", "Ctrl N"}, Weight::main,
                   width - label - back - 2 * gap, height)) {
            outbox.post(NextCoil{});
        }
        ImGui::SameLine(0, gap);
        if (button(look, {"label", "Label", "Ctrl L"}, Weight::plain, label, height)) {
            outbox.post(WriteLabel{});
        }
        ImGui::SameLine(0, gap);
        if (button(look, {"take back", "Take back", {}}, Weight::plain, back, height)) {
            outbox.post(TakeBackConfirmation{});
        }
        return;
    }
    if (button(look, {"confirm", verdict.confirm_label, "Ctrl Enter"}, Weight::main, main, height,
               verdict.confirms.has_value())) {
        confirm(view, outbox);
    }
    ImGui::SameLine(0, gap);
    if (button(look, {"next coil", "Next coil", "Ctrl N"}, Weight::plain, next, height)) {
        outbox.post(NextCoil{});
    }
}

void draw_verdict(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                  float width, float height) {
    const VerdictView& verdict = view.verdict;
    const ImVec2 start = ImGui::GetCursorPos();
    const float gap = look.px(12);
    const bool wide = width >= look.px(1150);
    const float decision = look.px(50);
    if (!view.has_coil) {
        const Card card(look, "verdict", width, height, "Verdict");
        wrapped(look, look.fonts.text, "Once a coil is in hand, what it is appears here.",
                Tone::muted);
        return;
    }
    ImGuiStorage& memory = *ImGui::GetStateStorage();
    const ImGuiID essential = ImGui::GetID("essential"), with_facts = ImGui::GetID("with facts"),
                  all = ImGui::GetID("all");
    const float words_width = wide ? (width - gap) * 0.5F : width;
    const float left = height - decision - 2 * gap;
    const float words_high =
        wide ? height - decision - gap
             : words_height(look, left,
                            {memory.GetFloat(essential, look.px(300)), memory.GetFloat(with_facts),
                             memory.GetFloat(all)});
    {
        const Card card(look, "verdict", words_width, words_high);
        const float page = ImGui::GetWindowHeight() * 0.8F;
        if (plain_pressed(key::page_down)) ImGui::SetScrollY(ImGui::GetScrollY() + page);
        if (plain_pressed(key::page_up)) ImGui::SetScrollY(ImGui::GetScrollY() - page);
        const auto remember = [&](ImGuiID part) {
            memory.SetFloat(part, ImGui::GetCursorPosY() + look.px(6));
        };
        draw_essentials(look, verdict, form, outbox);
        remember(essential);
        ImGui::Dummy({1, look.px(2)});
        draw_pairs(look, "facts", verdict.facts);
        remember(with_facts);
        ImGui::Dummy({1, look.px(2)});
        draw_pairs(look, "facets", verdict.facets);
        draw_reasons(look, verdict);
        remember(all);
    }
    const float picture_left = wide ? start.x + words_width + gap : start.x;
    ImGui::SetCursorPos({picture_left, wide ? start.y : start.y + words_high + gap});
    {
        const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(12), look.px(10)});
        // Beside the words it is no higher than wide.
        const Card card(look, "picture", wide ? width - words_width - gap : width,
                        wide ? std::min(height, width - words_width - gap) : left - words_high);
        const ImVec2 room = ImGui::GetContentRegionAvail();
        plot(look, "plot", verdict.picture, form.window, room.x, room.y);
    }
    ImGui::SetCursorPos({start.x, start.y + height - decision});
    draw_decision(look, view, outbox, words_width, decision);
}

}  // namespace coilbook::bench::bench_page
