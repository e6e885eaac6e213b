// What the page of one coil shows: finished strings, flags and places, ready to be drawn.
//
// Six parts: who it is and where, what was measured and where each figure comes from, how it sinks,
// what was seen on it, its photographs, its history. coil_model.h fills it.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "bench/state_sign.h"
#include "bench/widgets/photo.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/text.h"
#include "catalog/coil_care.h"

namespace coilbook::bench::coil_page {

struct WhoView {
    std::string code;
    StateView state;
    std::string verdict;    // "T-11"
    std::string certainty;  // "98 %", "by your word"
    std::string certainty_help;
    std::string gist;                // "11.20 ± 0.03 gr/ft, sinks 7.07 ± 0.25 in/s"
    std::string doubt;               // that it looks wrong; may be empty
    std::string place;               // "in the wallet of rig R1, the rig with boat Heron"
    std::string dispute;             // that two copies disagree; may be empty
    std::vector<std::string> steps;  // the last handovers
    std::string balance;             // what it balances on, or why that is not known
    bool is_balance_known = false;
};

struct FactRow {
    std::string name, value;
    bool is_known = false;
    bool is_chosen = false;
    std::string help = {};
};
// Where the chosen fact comes from.
struct SourceView {
    std::string title;  // "Density: where it comes from"
    std::string lacks;  // of one that is not known; all else is empty then
    std::string formula, basis;
    struct Reading {
        std::string what, written, instrument;
    };
    std::vector<Reading> readings;
    struct Part {
        std::string origin, amount;  // "coating, squeezed", "93 %"
        double share;
    };
    std::vector<Part> budget;
    std::string budget_title;  // "Uncertainty comes from"
    std::string budget_help;
};

struct SinkRow {
    std::string temperature, fresh, sea;
};
struct SinkView {
    SinkRow heads;  // of the table: "water", "fresh, in/s", "sea, in/s"
    PlotView plot;
    std::vector<SinkRow> rows;  // every five degrees, for the table
    std::string note;
    std::string help;  // on its numbers
};

struct ConditionRow {
    Wear what;
    std::string name;    // "worn loop"
    std::string words;   // "2026-06-14, guide: thick end"
    std::string button;  // its identity
};
struct CareView {
    std::vector<ConditionRow> now;
    std::string nothing;              // said instead
    std::vector<std::string> before;  // what was noted and is good again
    std::string meant;                // which condition the letters mean
    std::string caution;              // of one that can break; may be empty
};

struct PhotoView {
    std::shared_ptr<const Photo> photo;  // null: none
    std::string caption;                 // "1 of 2, 2026-06-14, guide"
    std::string nothing;
    bool has_more = false;
};

struct HistoryRow {
    std::string when, what, who;
    bool counts = true;  // else it was undone
};

struct View {
    bool has_coil = false;
    std::string nothing;  // said instead of a coil
    WhoView who;
    std::vector<FactRow> facts;
    SourceView source;
    SinkView sink;
    CareView care;
    PhotoView photo;
    std::vector<HistoryRow> history;
    std::string title;  // for the window's name
    std::string failure;
    std::string message;
};

}  // namespace coilbook::bench::coil_page
