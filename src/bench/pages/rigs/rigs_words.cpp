// What the page says of the rigs and of the one in hand.
#include <fmt/format.h>

#include <algorithm>
#include <tuple>
#include <utility>

#include "base/text.h"
#include "bench/number_words.h"
#include "bench/pages/rigs/rigs_desk.h"

namespace coilbook::bench::rigs_page {
namespace {

// Which rods a tip is for, seen from this rig.
std::pair<std::string, Tone> fit_words(const app::RigPart& part, const Rig& rig) {
    if (part.role == RigRole::head) return {"", Tone::muted};
    if (part.fits.empty()) return {"not known what it fits", Tone::muted};
    std::vector<std::string> sizes;
    for (const auto size : part.fits) sizes.push_back(name_of(size));
    const bool are_all = sizes.size() > 5;
    const auto words =
        are_all ? "any size" : (sizes.size() == 1 ? "size " : "sizes ") + listed(sizes);
    if (!rig.line_size) return {"for " + words, Tone::muted};
    const bool fits = std::ranges::find(part.fits, *rig.line_size) != part.fits.end();
    if (fits) return {"fits size " + name_of(*rig.line_size), Tone::good};
    return {"for " + words + ", not " + name_of(*rig.line_size), Tone::warn};
}

std::string scan_label(const std::optional<RigRole>& role, const std::string& code) {
    if (!role) return "Scan or type a code: a rig, or a tip";
    switch (*role) {
        case RigRole::wallet:
            return "Scan what goes into the wallet of " + code;
        case RigRole::tip:
            return "Scan the tip that goes on " + code;
        case RigRole::head:
            return "Scan the head of " + code;
        case RigRole::leader:
            return "Scan the leader of " + code;
    }
    return "";
}

}  // namespace

SheetView Desk::sheet_of(const Rig& rig) {
    SheetView sheet;
    sheet.title = rig.code + (rig.name.empty() ? "" : ", " + rig.name);
    sheet.place = place_;
    const auto add = [&](const char* name, const std::string& words) {
        if (!words.empty()) sheet.words.emplace_back(name, words);
    };
    if (rig.line_size) add("line size", name_of(*rig.line_size));
    add("rod", rig.rod);
    add("reel", rig.reel);
    add("backing", rig.backing);
    add("running line", rig.running_line);
    add("notes", rig.notes);
    for (const auto& part : parts_) {
        const bool is_spare = part.role == RigRole::wallet;
        PartView view{part.coil, is_spare ? "" : std::string(name_of(part.role)), part.code,
                      part.what};
        std::tie(view.fit, view.tone) = fit_words(part, rig);
        view.fit_help = help_on(Number::tip_fit, units());
        view.is_next = part.is_next;
        view.is_at = form_.part == part.coil;
        if (part.is_next) {
            sheet.has_next = true;
            sheet.next_label = "Next tip: " + part.code + ", " + part.what;
        }
        (is_spare ? sheet.wallet : sheet.strung).push_back(std::move(view));
    }
    if (!sheet.has_next) sheet.next_label = "Next tip: the wallet is empty";
    if (rig.line_size) {
        sheet.fits_title = "In the bin, for size " + name_of(*rig.line_size);
        for (const auto& tip : tips_) sheet.fits.push_back(tip.code + "  " + tip.what);
        sheet.fits_nothing = "No coil in the bin is known to fit this size.";
    } else {
        sheet.fits_title = "In the bin";
        sheet.fits_nothing = "Say which line size the rod casts (F4), and what fits stands here.";
    }
    return sheet;
}

View Desk::made_view() {
    View view;
    view.failure = failure_;
    view.message = message_;
    const auto* rig = rig_at();
    for (const auto& each : inventory().rigs()) {
        RigRow row{each.id,   each.code,
                   each.name, each.line_size ? "size " + name_of(*each.line_size) : "",
                   "",        form_.at == each.id};
        int spare = 0;
        std::string tip = "no tip";
        for (const auto& part : inventory().custody().in_rig(each.id)) {
            if (part.role == RigRole::tip) {
                tip = "tip " + inventory().code_of(Thing(part.coil));
            }
            spare += part.role == RigRole::wallet ? 1 : 0;
        }
        row.below =
            fmt::format("{}, {} in the wallet, {}", tip, spare,
                        inventory().words_for(inventory().custody().place_of(Thing(each.id))));
        view.rows.push_back(std::move(row));
    }
    const auto count = view.rows.size();
    view.summary = fmt::format("{} {}", count, count == 1 ? "rig" : "rigs");
    view.nothing =
        "No rig yet. Ctrl N makes one: a rod with what is strung on it. Then scan its tips.";
    view.code_label = scan_label(form_.strings, rig == nullptr ? "" : rig->code);
    view.code_error = code_error_;
    if (form_.strings) view.code_note = "Esc: enough";
    view.has_rig = rig != nullptr;
    if (rig != nullptr) view.sheet = sheet_of(*rig);
    if (const auto* part = part_at()) {
        view.has_part = true;
        view.part_is_spare = part->role == RigRole::wallet;
    }
    view.retire_label = form_.is_asked_to_retire ? "Retire it for good" : "Retire it";
    return view;
}

}  // namespace coilbook::bench::rigs_page
