// What the page at the bench shows: finished strings, flags and places, ready to be drawn.
//
// Three parts, as the work goes: the bin with all its coils, the readings of the coil in hand, and
// the verdict that they lead to. Nothing here is computed while drawing. bench_model.h fills it.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/id.h"
#include "bench/state_sign.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/plot.h"
#include "bench/widgets/text.h"
#include "catalog/coil.h"
#include "catalog/readings.h"

namespace coilbook::bench::bench_page {

struct BinRow {
    Id<Coil> id;
    std::string code;
    StateView state;
    std::string what;    // "T-11"; while nothing is known, the word of the state
    std::string amount;  // "94 %", or "confirmed"
    std::string whole;   // all of it in words, for the mouse
    bool in_hand = false;
};

// Rows that are put into words when they are asked for: only those in sight are.
class BinRows {
  public:
    using Row = std::function<BinRow(std::size_t)>;

    BinRows() = default;
    BinRows(std::size_t count, Row row) : count_(count), row_(std::move(row)) {}
    BinRows(const std::vector<BinRow>& rows)
        : BinRows(rows.size(), [rows](std::size_t at) { return rows[at]; }) {}

    [[nodiscard]] std::size_t size() const { return count_; }
    [[nodiscard]] bool empty() const { return count_ == 0; }
    // REQUIRES: at < size().
    [[nodiscard]] BinRow operator[](std::size_t at) const { return row_(at); }

  private:
    std::size_t count_ = 0;
    Row row_;
};

struct BinView {
    BinRows rows;                        // those that the text in the code field lets through
    std::optional<std::size_t> in_hand;  // where among them the coil in hand is
    std::string summary;                 // "12 coils, 5 confirmed"
    std::string longest;            // of the names in it: as wide as this the bin would like to be
    std::vector<StateView> legend;  // of the shapes that no row says in words
    std::vector<std::string> first_steps;  // what to do, in an empty bin
    std::string nothing;                   // said instead of rows, if there are none
    std::string code_note;                 // under the code field: what Enter will do
    std::string code_error;                // why the text there cannot be a code
};

struct ReadingRow {
    ReadingField field;
    std::string label;                      // "Sample weight"
    std::string unit;                       // "gr"
    std::string bare_unit;                  // of a bare number, as a NumberStyle takes it
    std::string hint;                       // shown while empty
    std::string note;                       // what was understood
    std::string error;                      // what is wrong
    std::string stored;                     // what is kept, as the field shows it
    std::string kept = {};                  // the same with its unit, to be read alone
    std::vector<std::string_view> choices;  // for fields with a few words to choose from
    int picked = -1;                        // which of them the typed text means
    bool is_list = false;                   // several readings: Enter adds one, and stays
    bool is_saved = false;
    bool is_wanted = false;               // would help most
    std::optional<Id<Reading>> odd = {};  // the one of several that is far from the others
    bool takes_space = true;              // else the space bar is the stopwatch's
    bool is_running = false;              // the stopwatch is
    std::string help = {};                // what the reading is, and for what
};

struct NotesView {
    std::string stored;  // as the catalogue has them
    std::string note, error;
};

enum class Tool;
// Which of several instruments of a kind is on the bench. Absent where there is but one.
struct ToolRow {
    Tool tool;
    std::vector<std::string> codes;  // all of the kind; the empty one is the default
    std::string says;                // "Scale S2"
    std::string key;                 // that goes to the next one
};

struct BarRow {
    std::string class_name;  // as the reference library has it; empty for "all others"
    std::string name, amount;
    double share = 0;
    Mark mark = Mark::disc;
    std::size_t series = 0;
    bool leading = false;
    bool is_choice = false;  // the one that Confirm would confirm
    std::string help = {};   // what the per cent are
};

// A name and its value, such as "Sink rate" and "6.4 ± 0.4 in/s".
struct FactRow {
    std::string name, value, aside;
    bool is_known = true;
    std::string help = {};  // what it is, how it is found, and by whom
};

struct FlagRow {
    Tone tone = Tone::warn;
    std::string words;
};

struct VerdictView {
    std::string headline;   // "T-11 level line", or "Cannot tell yet"
    std::string certainty;  // "94 %"
    std::string certainty_help;
    std::string gist;  // "11.05 ± 0.03 gr/ft, sinks 6.3 ± 0.2 in/s", what is known of it
    StateView state;
    std::vector<FactRow> facets;  // grain class, density grade, line size, family
    std::vector<BarRow> bars;
    std::vector<FactRow> facts;
    std::vector<FlagRow> flags;
    std::vector<std::string> because;
    std::string fishes_like;   // which names are one line in the water; may be empty
    std::string next_reading;  // what to measure next, or that it is enough; may be empty
    std::string next_cost;     // how long that takes, and what it is good for
    std::string next_cost_help;
    bool is_enough = false;
    std::optional<ReadingField> next_field;
    std::string confirm_label;            // "Confirm T-11"
    std::optional<std::string> confirms;  // the class that Confirm means; nothing: not possible
    std::string correct_units;            // "They were grams": for one key; mostly empty
    bool may_take_back = false;           // it is confirmed, and that can be taken back
    PlotView picture;
};

// What the person wants to know, for the buttons that change it.
struct QuestionView {
    std::string answer;  // "Which line"
    std::string order;   // "Most telling first"
};

struct View {
    BinView bin;
    QuestionView question;
    bool has_coil = false;  // a coil is in hand; else readings and verdict are not drawn
    std::string title;      // "A8: T-11, 94 %", for the window's name; empty without a coil
    std::string coil_code;
    StateView coil_state;
    std::vector<ReadingRow> readings;
    NotesView notes;
    std::vector<ToolRow> tools;
    VerdictView verdict;
    std::string failure;  // of the machine, in words; nothing was lost
    std::string message;  // what was done last: "Saved: sample weight 22.4 gr"
};

}  // namespace coilbook::bench::bench_page
