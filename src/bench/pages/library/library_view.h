// What the page Library shows: finished strings, flags and places, ready to be drawn.
//
// Four parts: the list of the classes, the map with all of them, what is known about the chosen
// one, and how good the answers are in this catalogue. library_model.h fills it.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/id.h"
#include "bench/pages/library/library_form.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/plot_window.h"
#include "bench/widgets/text.h"
#include "catalog/coil.h"

namespace coilbook::bench::library_page {

// A class, or the heading of a family.
struct ClassRow {
    std::string heading;  // "Level lines"; all else is empty then
    std::string name;     // as the library has it
    std::string label;    // the same, shorter where the heading says the rest
    Mark mark = Mark::disc;
    std::size_t series = 0;
    std::string grade;                 // "type 6": the density grade that it goes by
    std::string weight, density;       // numbers alone, in ListView::units
    std::string rate;                  // in still fresh water of 10 °C
    std::string confirmed, set_aside;  // how many coils; empty for none
    std::string whole;                 // all of it in words, for the mouse
    bool is_chosen = false;

    [[nodiscard]] bool is_heading() const { return !heading.empty(); }
};

struct ListView {
    std::vector<ClassRow> rows;        // those that the filter lets through, with their headings
    std::array<std::string, 5> help;   // on those, on confirmed coils and on those set aside
    std::array<std::string, 3> units;  // of weight, density and rate: "gr/ft", the columns' heads
    std::string summary;               // "102 classes, 12 confirmed coils"
    std::string note;                  // under the filter: how many match, or what Enter does
    std::string nothing;               // said instead of rows, if there are none
};

// One figure of a class: "Weight per foot", "11.0 gr/ft", "11.6 gr/ft", "+5.4 %".
struct FigureRow {
    std::string name, built_in, now, change;
    std::string help = {};  // what it is, and how it is found
};

// A confirmed coil that looks wrong.
struct DoubtRow {
    Id<Coil> coil;
    std::string code;
    std::string words;
    std::string button;  // "Take back B7"
};

struct AboutView {
    std::string title;  // "T-11"
    std::string kind;   // "level line, goes by type 6"
    Mark mark = Mark::disc;
    std::size_t series = 0;
    std::vector<FigureRow> figures;
    bool has_learned = false;           // then figures have a column `now`
    std::vector<std::string> learning;  // what it learned, in sentences
    std::vector<DoubtRow> doubts;       // the worst first
    std::string remedy;                 // what to do about them; may be empty
    std::string fishes_like;            // which classes are the same line in the water
    std::string basis;                  // where the built-in figures come from
};

// One question: how often the answer was right, and how sure it was said to be.
struct ScoreRow {
    std::string question;      // "Grain class"
    std::string right;         // "18 of 20 right"
    std::string words;         // "said 88 % sure, right 90 %: as sure as it should be"
    double share = 0;          // that was right, 0 to 1
    double low = 0, high = 1;  // within which the true share lies, 95 %
    double certainty = 0;      // stated, on average
    Tone tone = Tone::normal;
    std::string help = {};
};

struct ScoreView {
    std::string aside;               // "20 coils"
    std::vector<ScoreRow> rows;      // empty while there are too few coils to say
    std::vector<std::string> words;  // what it means, and what is left out
};

// What is being done to the library, in place of what is known about the chosen class.
struct TaskView {
    Task task = Task::look;
    std::string title;  // "Split T-11"
    struct Field {
        std::string label, unit, hint;
        std::vector<std::string_view> words;  // of a choice
        int cells = 1;                        // how wide it is, in columns
        bool is_wrong = false;
    };
    std::vector<Field> fields;
    std::vector<std::string> words;  // what it will do, or how it is meant
    std::string trouble;             // what is wrong; may be empty
    std::string does;                // "Split": on the button
    bool is_possible = false;
};

struct View {
    ListView list;
    PlotView map;
    std::optional<PlotWindow> close_up;  // of the chosen class, for zooming to it
    std::optional<AboutView> about;      // nothing where no class is chosen
    std::optional<TaskView> task;        // nothing while nothing is being changed
    bool is_own = false;                 // the chosen class can be changed
    ScoreView score;
    std::optional<Id<Coil>> doubtful;  // that taking back is about: the worst of the chosen class
    bool has_doubts = false;           // in any class
    std::string title;                 // for the window's name
    std::string failure;               // of the machine, in words
    std::string message;               // what was done last
};

}  // namespace coilbook::bench::library_page
