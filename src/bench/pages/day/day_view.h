// What the page Day shows: finished strings, ready to be drawn. day_desk.h fills it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/id.h"
#include "bench/pages/day/day_form.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::day_page {

// A boat that goes out.
struct BoatRow {
    Id<Boat> boat;
    std::string name;
    std::string clients;  // by their names
    std::string packed;   // "3 of 5"
    std::string packed_help = {};
    Mark mark = Mark::ring;
    Tone tone = Tone::muted;
    bool is_at = false;
};

// A thing or need of the boat in hand; a thing that is out; a boat or a client.
struct RowView {
    std::string key;  // what it is found by: a code, or the name of a class or boat
    std::string head, words, aside;
    std::optional<bool> tick = {};
    bool is_within = false, is_at = false;
    Tone tone = Tone::muted;
};

struct ProblemView {
    std::string words;
    bool is_of_this_boat = false;
};

struct View {
    std::string day;        // "Tomorrow, Sunday"
    std::string day_short;  // for the window's name: "2026-06-14"
    std::string summary;    // "14 June 2026: 2 boats go out"
    std::vector<BoatRow> boats;
    std::string no_boats;
    Task task = Task::pack;
    std::array<std::string, 4> task_labels;  // "Still out: 3"

    std::string title, aside;  // of what is in the middle
    std::string code_label, code_note, code_error;
    bool wants_code = true;
    std::vector<RowView> rows;
    std::string nothing;  // said where there is no row
    bool has_boat = false, has_row = false;
    bool row_may_tick = false, row_may_drop = false, row_may_note = false, row_is_person = false;
    std::string end_label;  // "Retire this boat"

    std::string problems_title;
    std::vector<ProblemView> problems;
    std::string fill_label;  // "Take A2 along"; empty: nothing helps
    std::vector<std::string> cautions;
    std::string failure, message;
};

}  // namespace coilbook::bench::day_page
