// What the page Care shows: finished strings, ready to be drawn. care_desk.h fills it.
#pragma once

#include <string>
#include <vector>

#include "bench/pages/care/care_form.h"

namespace coilbook::bench::care_page {

struct TaskRow {
    Task task = Task::back_up;
    std::string name;  // "Back up"
    std::string what;  // "A whole copy of it, looked through"
    std::string key;   // "F3"
    bool is_at = false;
};

// A backup to go back to, or a kind of things.
struct ChoiceRow {
    std::string id;
    std::string head;   // "2026-11-26", "coils"
    std::string aside;  // "21 MB"
    std::string below;  // when it was written
    bool is_at = false;
};

// Something that is so or the other way.
struct Switch {
    std::string action;  // its name
    std::string label;   // how it is now: "Without the clients' names"
    std::string key;
};

struct View {
    std::vector<TaskRow> tasks;
    Task task = Task::back_up;
    std::string title, about;
    std::string field_label, field_hint, field_note, field_error;  // no label: no field
    std::string rows_title, nothing;                               // no title: no rows
    std::vector<ChoiceRow> rows;
    std::vector<Switch> switches;
    std::vector<std::string> lines;  // what would change, or what was found
    std::string do_label;
    bool may_do = false;
    std::string failure, message;
};

}  // namespace coilbook::bench::care_page
