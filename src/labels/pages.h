// Whole pages: a packing list to tick off, and bars to compare counts by.
//
// Finished words in, bytes of a file out, as with labels (label_files.h). Black on white; bars are
// told apart by their patterns and named in words.
#pragma once

#include <string>
#include <vector>

#include "labels/sheet.h"

namespace coilbook::labels {

struct PackingRow {
    std::string code;
    std::string what;  // "rig, size 8: blue two-hander"
    bool is_ticked = false;
    bool is_within = false;  // lies in the thing above, such as a tip in a rig's wallet

    bool operator==(const PackingRow&) const = default;
};

struct PackingList {
    std::string title;  // "Heron, 2026-06-14"
    std::string who;    // "K7M3XM, R4T9WC"; may be empty
    std::vector<PackingRow> rows;
    std::vector<std::string> warnings;  // a paragraph each, above the list
    std::vector<std::string> cautions;  // a line each, below it

    bool operator==(const PackingList&) const = default;
};

// As many pages as it takes, each with its number; every row with a box, an empty one to tick with
// a pen, and with its QR code to tick by scanning.
[[nodiscard]] std::string packing_pdf(const PackingList& list, const Paper& paper);

// Counts of several kinds for each of several things: "T-11" with 3 lost, 1 damaged.
struct BarRow {
    std::string name;
    std::vector<int> counts;  // one for each kind
};
struct BarPlot {
    std::string title;
    std::vector<std::string> kinds;  // at most four: "lost", "damaged"
    std::vector<BarRow> rows;        // at most 60
    std::string note;                // below, in small type
};
enum class PlotFile { svg, pdf };
[[nodiscard]] std::string bar_plot(const BarPlot& plot, PlotFile file);

}  // namespace coilbook::labels
