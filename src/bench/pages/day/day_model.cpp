// What the page says of the day, its boats, and the list in the middle.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>

#include "base/text.h"
#include "bench/number_words.h"
#include "bench/pages/day/day_desk.h"

namespace coilbook::bench::day_page {
namespace {

// "Tomorrow, Sunday", and for days farther away the weekday alone.
std::string day_words(Day day, Day today) {
    constexpr std::array weekdays{"Sunday",   "Monday", "Tuesday", "Wednesday",
                                  "Thursday", "Friday", "Saturday"};
    const std::string words = weekdays[std::chrono::weekday(day).c_encoding()];
    if (day == today) return "Today, " + words;
    if (day == today + std::chrono::days{1}) return "Tomorrow, " + words;
    if (day == today - std::chrono::days{1}) return "Yesterday, " + words;
    return words;
}

// "14 June 2026".
std::string date_words(Day day) {
    constexpr std::array months{"January",   "February", "March",    "April",
                                "May",       "June",     "July",     "August",
                                "September", "October",  "November", "December"};
    const std::chrono::year_month_day date(day);
    return fmt::format("{} {} {}", static_cast<unsigned>(date.day()),
                       months[static_cast<unsigned>(date.month()) - 1],
                       static_cast<int>(date.year()));
}

// How many boxes of a boat are ticked, and how many there are: the same as on paper.
std::pair<std::size_t, std::size_t> packed_of(const app::BoatDay& day) {
    const auto ticked = std::ranges::count_if(day.carries, &app::Carried::is_ticked);
    return {static_cast<std::size_t>(ticked), day.carries.size()};
}

std::string number_of(std::size_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

}  // namespace

View Desk::made_view() {
    View view;
    view.failure = failure_;
    view.message = message_;
    view.day = day_words(form_.day, today_);
    view.day_short = day_text(form_.day);
    view.task = form_.task;
    view.has_boat = boat_at() != nullptr;
    view.cautions = app::cautions();
    show_boats(view);
    show_task(view);
    show_rows(view);
    show_problems(view);
    return view;
}

void Desk::show_boats(View& view) const {
    for (const auto& each : boats_) {
        const auto [ticked, all] = packed_of(each);
        const bool is_complete = all > 0 && ticked == all;
        BoatRow row{each.boat.id, each.boat.name, listed(each.clients),
                    all == 0 ? "nothing planned" : fmt::format("{} of {}", ticked, all)};
        if (row.clients.empty()) row.clients = "the guide alone";
        row.is_at = form_.boat == each.boat.id;
        if (!row.packed.empty()) row.packed_help = help_on(Number::packed, units());
        if (!each.problems.empty()) {
            row.mark = Mark::warning;
            row.tone = Tone::warn;
        } else if (is_complete) {
            row.mark = Mark::check;
            row.tone = Tone::good;
        } else if (ticked > 0) {
            row.mark = Mark::half;
        }
        view.boats.push_back(std::move(row));
    }
    view.summary = date_words(form_.day) + ": ";
    view.summary += boats_.empty() ? "nobody goes out"
                                   : number_of(boats_.size(), "boat goes out", "boats go out");
    view.no_boats = all_boats_.empty() ? "No boat yet. Ctrl B adds one, Ctrl K a client."
                                       : "No boat goes out on this day. Ctrl N plans one.";
}

void Desk::show_task(View& view) const {
    view.task_labels = {"Plan", "Pack",
                        out_.empty() ? "Come back" : fmt::format("Come back: {} out", out_.size()),
                        "Boats, clients"};
    const auto* boat = boat_at();
    const std::string name = boat != nullptr ? boat->boat.name : std::string();
    switch (form_.task) {
        case Task::plan:
            view.title = name + " is to carry";
            view.code_label = "Scan or type what it carries: a code, or a class such as 2 T-11";
            view.nothing = "Nothing is planned. Scan a rig or a spare tip, or type 2 T-11.";
            break;
        case Task::pack:
            view.title = name + " takes aboard";
            view.code_label = "Scan or type a code: it goes aboard and is ticked";
            view.nothing = "Nothing is planned for this boat. F5 plans what it carries.";
            break;
        case Task::back:
            view.title = out_.empty() ? "Everything is back"
                                      : number_of(out_.size(), "thing did not come back yet",
                                                  "things did not come back yet");
            view.code_label = "Scan or type a code: it came back";
            view.nothing = "Nothing is out with a boat.";
            break;
        case Task::people:
            view.title = "Boats and clients";
            view.aside = number_of(all_boats_.size(), "boat", "boats") + ", " +
                         number_of(clients_.size(), "client", "clients");
            view.code_label = "Find a boat or a client by name or code";
            view.nothing = "Ctrl B adds a boat, Ctrl K a client.";
            break;
    }
    if (!view.has_boat && (form_.task == Task::plan || form_.task == Task::pack)) {
        view.title = "No boat goes out";
        view.nothing = view.no_boats;
    }
    if (boat != nullptr && form_.task == Task::pack) {
        const auto [ticked, all] = packed_of(*boat);
        if (all > 0) view.aside = fmt::format("{} of {} ticked", ticked, all);
    }
    view.code_error = code_error_;
    if (!form_.asked_code.empty()) view.code_note = question_;
}

void Desk::show_rows(View& view) const {
    const auto add = [&](RowView row) {
        row.is_at = row.key == form_.row;
        view.has_row = view.has_row || row.is_at;
        view.rows.push_back(std::move(row));
    };
    if (form_.task == Task::back) {
        for (const auto& each : out_) {
            add({each.code, each.code, each.what,
                 each.within.empty() ? each.boat : each.boat + ", " + each.within, false,
                 !each.within.empty(), false, each.is_disputed ? Tone::warn : Tone::muted});
        }
        view.row_may_tick = view.row_may_note = view.has_row;
        return;
    }
    if (form_.task == Task::people) {
        for (const auto& boat : all_boats_) {
            auto words = boat.seats ? fmt::format("boat, {} people", *boat.seats) : "boat";
            add({boat.name, boat.name, words, boat.notes, {}});
        }
        for (const auto& client : clients_) {
            std::string words = client.code;
            if (client.person->line_size) words += ", size " + name_of(*client.person->line_size);
            if (!client.person->hand.empty()) words += ", " + client.person->hand + "-handed";
            add({client.code, client.person->name, words, client.person->notes, {}});
        }
        view.row_is_person = view.has_row;
        const bool is_boat = person_boat() != nullptr;
        view.end_label = is_boat ? "Retire this boat" : "Forget this client";
        if (form_.is_asked_again) view.end_label += " for good";
        return;
    }
    const auto* boat = boat_at();
    if (boat == nullptr) return;
    for (const auto& each : boat->carries) {
        const bool is_need = each.code.empty();
        RowView row{
            is_need ? each.class_name : each.code, each.code, each.what, "", {}, each.is_within};
        if (form_.task == Task::pack) row.tick = each.is_ticked;
        const bool is_doubted = std::ranges::any_of(
            boat->problems,
            [&](const app::PlanProblem& problem) { return problem.what == row.key; });
        if (is_doubted) {
            row.tone = Tone::warn;
            row.aside = "see warnings";
        }
        add(std::move(row));
    }
    if (const auto* row = carried_at()) {
        view.row_may_tick = form_.task == Task::pack && !row->code.empty();
        view.row_may_drop = row->is_planned && !row->is_within;
        view.row_may_note = !row->code.empty();
    }
}

void Desk::show_problems(View& view) const {
    const auto* boat = boat_at();
    for (const auto* each : problems_in_order()) {
        const bool is_ours =
            boat != nullptr && std::ranges::find(boat->problems, *each) != boat->problems.end();
        view.problems.push_back({each->sentence, is_ours});
        if (is_ours && view.fill_label.empty() && !each->would_help.empty()) {
            view.fill_label = "Take " + each->would_help.front() + " along";
        }
    }
    view.problems_title = boats_.empty()      ? "Nothing is planned"
                          : problems_.empty() ? "Nothing is wrong with the plan"
                                              : "Wrong with the plan";
}

}  // namespace coilbook::bench::day_page
