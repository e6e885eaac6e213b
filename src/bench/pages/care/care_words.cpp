#include "bench/pages/care/care_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/export_table.h"

namespace coilbook::bench::care_page {
namespace {

std::string size_words(std::uintmax_t bytes) {
    const double kilobytes = static_cast<double>(bytes) / 1000.0;
    return kilobytes < 1000 ? fmt::format("{:.0f} kB", kilobytes)
                            : fmt::format("{:.1f} MB", kilobytes / 1000.0);
}

constexpr const char* beside = "A name alone lies beside the catalogue.";

}  // namespace

std::vector<TaskRow> task_rows(Task at) {
    std::vector<TaskRow> rows{
        {Task::back_up, "Back up", "A whole copy, looked through", "F3"},
        {Task::go_back, "Go back to a backup", "What that would change is shown first", "F4"},
        {Task::look_through, "Look it through", "Whether everything in it is sound", "F5"},
        {Task::table, "Write a table", "Coils, readings … for another program", "F6"},
        {Task::take_in, "Take in another copy", "What was done on another laptop", "F7"},
        {Task::write_out, "Write for another laptop", "Everything that was done, as a file", "F9"}};
    for (auto& row : rows) row.is_at = row.task == at;
    return rows;
}

std::vector<ChoiceRow> backup_rows(const std::vector<app::BackupThere>& backups,
                                   const std::string& at) {
    std::vector<ChoiceRow> rows;
    for (const auto& each : backups) {
        auto mark = each.file.stem().string();
        mark.erase(0, mark.find('.') + 1);  // of "shop.2026-11-25"
        rows.push_back({each.file.string(), mark, size_words(each.bytes),
                        "written " + app::moment_in_words(each.written_at),
                        each.file.string() == at});
    }
    return rows;
}

std::vector<ChoiceRow> kind_rows(const std::string& at) {
    std::vector<ChoiceRow> rows;
    for (const auto& kind : store::all_kinds()) {
        rows.push_back({std::string(kind.name), std::string(kind.name), {}, {}, kind.name == at});
    }
    return rows;
}

void put_words(View& view, const Form& form, bool is_shown) {
    view.task = form.task;
    const auto at = std::ranges::find_if(view.tasks, [](const auto& row) { return row.is_at; });
    view.title = at->name;
    view.field_note = beside;
    const Switch names{"with names",
                       form.with_names ? "With the clients' names" : "Without the clients' names",
                       "Ctrl N"};
    switch (form.task) {
        case Task::back_up:
            view.about =
                "Once a day, before its first change, the catalogue copies itself. Make one more "
                "before something large, or onto a card that you put elsewhere.";
            view.field_label = "Where to";
            view.field_hint = "beside the catalogue, in backups";
            view.do_label = "Back it up now";
            break;
        case Task::go_back:
            view.about =
                "The catalogue becomes what the backup is, history and all. What it was until now "
                "is kept beside it.";
            view.field_label = "Another file";
            view.field_hint = "or drop it on the window";
            view.rows_title = "Backups";
            view.nothing = "There is none yet. The first is made before the first change.";
            view.do_label = is_shown ? "Go back to it" : "Show what would change";
            break;
        case Task::look_through:
            view.about =
                "Every page of the file, the history's seals, and every value beside what the "
                "history says of it. Where something is wrong, go back to a backup.";
            view.do_label = "Look it through";
            break;
        case Task::table:
            view.about =
                "Every value exactly, as CSV, or as JSON where the name ends in .json. "
                "'coilbook import' brings it in again.";
            view.field_label = "Into the file";
            view.field_hint = "beside the catalogue";
            view.rows_title = "Things of one kind";
            view.switches = {names};
            view.do_label = "Write it";
            break;
        case Task::take_in:
            view.about =
                "Another copy of this catalogue, or the file that another laptop wrote. It does "
                "not "
                "matter who takes in whom, or how often. What two people changed apart is kept, "
                "and asked about.";
            view.field_label = "The other's file";
            view.field_hint = "or drop it on the window";
            view.switches = {
                {"join",
                 form.joins ? "Also one that was made apart" : "Only a copy of this catalogue",
                 "Ctrl J"}};
            view.do_label = is_shown ? "Take it in" : "Show what would come";
            break;
        case Task::write_out:
            view.about =
                "Everything that was ever done, for another laptop that has a copy of this "
                "catalogue to take in. Nothing of it is lost or doubled.";
            view.field_label = "Into the file";
            view.field_hint = "beside the catalogue";
            view.switches = {names};
            view.do_label = "Write it";
            break;
    }
}

}  // namespace coilbook::bench::care_page
