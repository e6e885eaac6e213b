// What the page of the instruments shows: finished strings, flags and places, ready to be drawn.
//
// The list of all instruments; the one in hand with what is known of it; and one of three tasks: a
// check against standards, the maker's figures, a study of readings. Nothing here is computed while
// drawing. instruments_model.h fills it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/instrument_kinds.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::instruments_page {

// Whether a check still counts, said by a shape and a word.
struct StateView {
    Mark mark = Mark::ring;
    Tone tone = Tone::muted;
    std::string word;  // "never checked", "checked", "check again"
};

struct InstrumentRow {
    app::InstrumentKey key;
    std::string id;    // stable: "scale S2"
    std::string name;  // "S2", or "the usual scale" for the default one
    StateView state;
    std::string reads;  // "reads 0.25 ± 0.02 gr too much"
    std::string group;  // the kind's name in the plural, before its first row; else empty
    std::string whole;  // all of it in words, for the mouse
    bool in_hand = false;
    bool has_draft = false;  // a check of it is begun and not saved
};

struct ListView {
    std::vector<InstrumentRow> rows;  // those that the text in the code field lets through
    std::string summary;              // "7 instruments, 1 to check again"
    std::string nothing;              // said instead of rows, if there are none
    std::string code_note;            // under the code field: what Enter will do
    std::string code_error;
};

// A sentence with the weight that it has.
struct Sentence {
    std::string words;
    Tone tone = Tone::normal;
    std::optional<Mark> mark;
    std::string help = {};  // on the number in it
};

// The instrument in hand.
struct AboutView {
    std::string title;  // "Scale S2"
    StateView state;
    std::vector<Sentence> sentences;
    std::string check_label;  // "Check it", or "Go on with the check"
    bool is_micrometer = false;
    std::string squeeze;  // what is there or missing to find how soft coatings squeeze
    bool can_find_squeeze = false;
    std::vector<std::string> how;  // how such an instrument is checked
};

struct Field {
    std::string label, unit, hint, note, error;
};

// One reading of the standard at hand, that can be taken out.
struct ReadingChip {
    std::string text;
    bool is_odd = false;
};

struct StandardRow {
    std::string stated;    // "100 gr"
    std::string readings;  // "3 readings"
    std::string off;       // "0.27 ± 0.03"
    bool at_hand = false;
    bool is_odd = false;  // one of its readings is unlike the others
};

struct CheckView {
    std::string title;  // "Check of scale S2"
    std::string step;   // what to do now: "Lay the 100 gr weight on and type what it shows."
    std::string standard_label;
    Field stated, sure, reading;
    int stated_as = 0;       // of the three ways
    std::string other_unit;  // "grams", or empty where there is none
    bool may_read = false;   // a standard is laid on
    std::vector<ReadingChip> chips;
    std::string live_help, off_help;
    std::string live;  // "mean 100.27 gr, scatter 0.058 gr"
    std::string odd;   // what to think of a reading unlike the others; or empty
    std::vector<StandardRow> standards;
    std::vector<std::string> how;
    bool can_save = false;
    bool is_begun = false;  // something is there that could be thrown away
};

// What a check tells, the one being made or the last one kept.
struct ResultView {
    std::string title;                // "What the check tells so far"
    std::vector<Sentence> sentences;  // the first one is the headline
    PlotView plot;
};

struct FiguresView {
    std::string title;  // "A new instrument", "Figures of scale S2"
    bool is_new = false;
    std::vector<std::string_view> kinds;
    int kind = 0;  // of these
    Field code, resolution, limit, scatter;
    std::string other_unit;
    std::string note;
    std::string save_label;
};

struct StudyCell {
    std::string text;  // how many readings are taken while others still read
    struct Reading {
        std::string text;
        std::size_t number = 0;  // of the study
    };
    std::vector<Reading> readings;  // once all are taken
    bool at_hand = false;
};
struct StudyRow {
    std::string coil;
    std::vector<StudyCell> cells;  // one for each person
};
struct PartRow {
    std::string name, amount;  // "the coils themselves", "0.10 mm"
    std::string percent;       // "92.2 %"
    std::string help;          // what that part is
    double share = 0;          // 0 to 1, of the variance
    Mark mark = Mark::disc;
    std::size_t series = 0;
};
struct StudyView {
    bool is_going = false;  // set up, and being read or done
    bool is_done = false;
    bool asks = false;  // for a reading, the next one or one that is read once more
    // While it is set up:
    std::vector<std::string_view> kinds;
    int kind = 0;
    Field people, coils, times, reading;
    bool is_shuffled = true;
    std::string unit, other_unit;  // "mm", "inches"
    std::string plan;              // "54 readings: …", or what is missing
    std::string plan_help, judgement_help;
    bool can_begin = false;
    std::string unfinished;  // what is known of one of an earlier start; mostly empty
    // While it is read:
    std::string turn;       // "Ann reads A3"
    std::string progress;   // "reading 7 of 54, first round"
    std::string hand_over;  // "Hand it over to Bob"; or empty
    std::vector<std::string> people_names;
    std::vector<StudyRow> table;
    // When it is done:
    std::string judgement;
    std::vector<std::string> sentences;
    std::vector<PartRow> parts;
};

enum class Task { look, check, figures, study };

struct View {
    ListView list;
    Task task = Task::look;
    std::string title;  // for the window's name
    bool has_instrument = false;
    AboutView about;
    CheckView check;
    ResultView result;
    FiguresView figures;
    StudyView study;
    std::string failure;  // of the machine, in words; nothing was lost
    std::string message;  // what was done last
};

}  // namespace coilbook::bench::instruments_page
