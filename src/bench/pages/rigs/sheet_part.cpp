// The rig in hand from the reel outwards, its wallet, and what can be done with it.
#include <imgui.h>

#include <algorithm>

#include "bench/pages/rigs/rigs_actions.h"
#include "bench/pages/rigs/rigs_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/entry_form.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::rigs_page {
namespace {

void draw_part(const Look& look, const PartView& part, Desk& desk, float head_width) {
    const std::string code = part.role.empty() ? part.code : part.role + " " + part.code;
    const std::string fit = part.is_next ? "next;  " + part.fit : part.fit;
    const auto clicked = list_row(look, {.id = part.code,
                                         .head = code,
                                         .words = part.what,
                                         .aside = fit,
                                         .mark = part.is_next        ? Mark::triangle
                                                 : part.role.empty() ? Mark::ring
                                                                     : Mark::disc,
                                         .tone = part.is_next ? Tone::accent : part.tone,
                                         .is_at = part.is_at,
                                         .head_width = head_width,
                                         .help = part.fit_help});
    if (clicked.row) desk.form().part = part.coil;
}

void draw_parts(const Look& look, const SheetView& sheet, Desk& desk, float height) {
    const ChildScope parts("parts", {0, height}, false);
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    for (const auto& [name, words] : sheet.words) {
        const float x = ImGui::GetCursorPosX();
        line(look, look.fonts.text, name, Tone::muted);
        ImGui::SameLine();
        ImGui::SetCursorPosX(x + look.px(120));
        wrapped(look, look.fonts.text, words);
    }
    ImGui::Dummy({1, look.px(4)});
    line(look, look.fonts.small, "Strung on it", Tone::muted);
    if (sheet.strung.empty()) {
        wrapped(look, look.fonts.text, "Nothing yet: F7 and scan its tip, Ctrl H its head.",
                Tone::muted);
    }
    for (const PartView& part : sheet.strung) draw_part(look, part, desk, 124);
    ImGui::Dummy({1, look.px(4)});
    line(look, look.fonts.small, "In its wallet, the lightest first", Tone::muted);
    if (sheet.wallet.empty()) {
        wrapped(look, look.fonts.text, "Empty: F6, then scan the tips that go along.", Tone::muted);
    }
    for (const PartView& part : sheet.wallet) draw_part(look, part, desk, 124);
}

void draw_buttons(const Look& look, const View& view, Desk& desk) {
    const float width = ImGui::GetContentRegionAvail().x, gap = look.px(8);
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{gap, gap});
    if (button(look, {"next tip", view.sheet.next_label, "F5"}, Weight::main, width, look.px(54),
               view.sheet.has_next)) {
        perform("next tip", desk);
    }
    const float third = (width - 2 * gap) / 3;
    const auto one = [&](const char* action, const char* label, const char* key, bool enabled) {
        if (button(look, {action, label, key}, Weight::plain, third, look.px(44), enabled)) {
            perform(action, desk);
        }
    };
    one("into the wallet", "Into the wallet", "F6", true);
    ImGui::SameLine(0, gap);
    one("string tip", "As its tip", "F7", true);
    ImGui::SameLine(0, gap);
    one("take out", "Take it out", "Ctrl D", view.has_part);
}

}  // namespace

void draw_sheet(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "sheet", width, height);
    if (!view.has_rig) {
        line(look, look.fonts.title, "No rig in hand");
        wrapped(look, look.fonts.text,
                "A rig is a rod with what is strung on it, and a wallet of tips. Ctrl N makes one.",
                Tone::muted);
        return;
    }
    const SheetView& sheet = view.sheet;
    line_within(look, look.fonts.title, ImGui::GetContentRegionAvail().x, sheet.title);
    note_item(look, "rig in hand", sheet.title);
    wrapped(look, look.fonts.text, sheet.place, Tone::muted);
    note_item(look, "place", sheet.place);
    ImGui::Dummy({1, look.px(2)});
    const float buttons = look.px(54 + 44 + 8);
    draw_parts(look, sheet, desk, ImGui::GetContentRegionAvail().y - buttons - look.px(10));
    draw_buttons(look, view, desk);
}

void draw_side(const Look& look, const View& view, Desk& desk, float width, float height) {
    Form& form = desk.form();
    const Card card(look, "side", width, height);
    const float inside = ImGui::GetContentRegionAvail().x;
    if (form.entry) {
        const float buttons = look.px(44) + look.px(8);
        {
            const ChildScope fields("fields", {0, ImGui::GetContentRegionAvail().y - buttons},
                                    false);
            if (draw_entry_form(look, *form.entry)) desk.outbox().post(SaveEntry{});
        }
        const float half = (inside - look.px(8)) / 2;
        if (button(look, {"save", "Save", "Ctrl Enter"}, Weight::main, half)) perform("save", desk);
        ImGui::SameLine(0, look.px(8));
        if (button(look, {"back", "Back", "Esc"}, Weight::plain, half)) perform("back", desk);
        return;
    }
    line(look, look.fonts.strong, view.has_rig ? view.sheet.fits_title : "Rigs");
    const float buttons = (look.px(44) + look.px(8)) * (view.has_rig ? 4.0F : 1.0F);
    {
        const ChildScope list("fits", {0, ImGui::GetContentRegionAvail().y - buttons}, false);
        if (view.has_rig && view.sheet.fits.empty()) {
            wrapped(look, look.fonts.text, view.sheet.fits_nothing, Tone::muted);
        }
        for (const auto& each : view.sheet.fits) {
            line_within(look, look.fonts.text, inside, each);
        }
        if (!view.sheet.fits.empty()) {
            wrapped(look, look.fonts.small,
                    "By weight per foot: common practice. A rod bears some more or less; cast it "
                    "before you trust it.",
                    Tone::muted);
        }
    }
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(8)});
    const auto one = [&](const char* action, std::string_view label, const char* key) {
        if (button(look, {action, label, key}, Weight::plain, inside)) perform(action, desk);
    };
    one("new rig", "Make a rig", "Ctrl N");
    if (!view.has_rig) return;
    one("change rig", "Change its words", "F4");
    one("save label", "Save its label", "Ctrl S");
    one("retire rig", view.retire_label, "");
}

}  // namespace coilbook::bench::rigs_page
