// What the page Rigs shows: finished strings, ready to be drawn. rigs_desk.h fills it.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/id.h"
#include "bench/widgets/text.h"
#include "catalog/coil.h"
#include "catalog/rig.h"

namespace coilbook::bench::rigs_page {

struct RigRow {
    Id<Rig> rig;
    std::string code, name;
    std::string size;   // "size 8"
    std::string below;  // "tip A2, 2 in the wallet, with boat Heron"
    bool is_at = false;
};

// A coil that is strung on the rig or lies in its wallet.
struct PartView {
    Id<Coil> coil;
    std::string role;  // "head", "tip", "leader"; empty in the wallet
    std::string code, what;
    std::string fit = {};  // "fits size 8"
    std::string fit_help = {};
    Tone tone = Tone::muted;
    bool is_next = false;
    bool is_at = false;
};

struct SheetView {
    std::string title;  // "R1, blue two-hander"
    std::string place;  // "with boat Heron since 2026-06-14 07:05 UTC"
    std::vector<std::pair<std::string, std::string>> words;  // "rod", "13 ft"
    std::vector<PartView> strung, wallet;
    std::string next_label;  // "Next tip: A3, size 8 type 6 tip"
    bool has_next = false;
    std::string fits_title;         // "In the bin, for size 8"
    std::vector<std::string> fits;  // "A2  size 8 type 6 tip"
    std::string fits_nothing;
};

struct View {
    std::vector<RigRow> rows;
    std::string summary;  // "3 rigs"
    std::string nothing;  // said where there is none
    std::string code_label, code_note, code_error;
    bool has_rig = false;
    bool has_part = false, part_is_spare = false;
    SheetView sheet;
    std::string retire_label;
    std::string failure, message;
};

}  // namespace coilbook::bench::rigs_page
