// What the page of the bin shows: finished strings, ready to be drawn. bin_desk.h fills it.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/id.h"
#include "bench/bin_lines.h"
#include "bench/state_sign.h"

namespace coilbook::bench::bin_page {

// One coil. Empty where nothing is known.
struct RowView {
    Id<Coil> coil;
    std::string code, notes;
    StateView state = {};
    std::string what = {}, sure = {};
    std::string weight = {}, diameter = {}, density = {}, rate = {};  // with their uncertainties
    std::string next = {}, group = {};
    std::string gist = {};  // weight and sink rate with their units, for a card
    bool is_ticked = false;
    bool is_at = false;  // the keyboard is on it
};

// How many coils have come how far; a click shows only those.
struct StateCount {
    std::optional<app::CoilState> state;  // nothing: all
    StateView sign;
    std::string count;
    double share = 0;
    bool is_shown = false;  // only these are
    std::string help = {};  // what the count is
};

// The group of the coil that the keyboard is on.
struct GroupView {
    std::string headline;  // "These 3 coils are one line"
    std::string codes;
    std::string line;        // "11.02 ± 0.01 gr/ft, 3.92 ± 0.05 g/cm³"
    std::string what_it_is;  // "T-11, 94 %"
    std::string certainty;   // how surely this coil belongs there
    std::string certainty_help;
    bool asks_for_a_name = false;
};

struct View {
    std::size_t count = 0;                    // rows that the search lets through
    std::function<RowView(std::size_t)> row;  // of them, in the order shown
    std::optional<std::size_t> at;            // the row that the keyboard is on
    Order order;
    std::string summary;                         // "46 coils", "12 of 46 coils, 3 ticked"
    std::string nothing;                         // said where there is no row
    std::string range_label;                     // what can be looked for
    std::string range_note;                      // what the text that is looked for means
    std::array<std::string, columns> heads;      // of the columns, in the order of SortBy
    std::array<std::string, columns> head_help;  // what its numbers are; empty for words
    std::vector<StateCount> states;
    std::string pace_help;
    std::string pace;  // "At 1 min 10 s a coil the other 30 take about 35 min."
    std::string confirm_label;
    bool may_confirm = false;
    bool is_grouping = false;  // going on just now
    bool is_grouped = false;
    std::optional<GroupView> group;
    std::string name_error;  // why the group cannot be called so
    // While it is asked where coils go to: "5 coils go to which boat, or into which rig?"
    std::string hand_title, hand_note, hand_error;
    std::vector<std::string> hand_choices;  // "Heron", "R1, blue two-hander": what begins like that
    std::string failure;
    std::string message;
};

}  // namespace coilbook::bench::bin_page
