#include "bench/pages/day/day_desk.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/outfit.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::day_page {

void Desk::read() {
    if (form_.day == Day{}) return run(StepDay{0});  // nobody has looked yet
    today_ = app::today(workshop());
    boats_ = app::boats_on(workshop(), inventory(), form_.day, true);
    problems_ = app::problems_of(workshop(), inventory(), form_.day);
    out_ = app::things_out(inventory());
    all_boats_ = app::boats(workshop());
    clients_ = app::clients(workshop());
    if (boat_at() == nullptr) {
        form_.boat = boats_.empty() ? std::optional<Id<Boat>>() : boats_.front().boat.id;
    }
    const auto shown = keys();
    if (std::ranges::find(shown, form_.row) == shown.end()) {
        form_.row = shown.empty() ? std::string() : shown.front();
    }
    is_stale_ = true;
}

void Desk::refresh() {
    changed();
    read();
}

const app::BoatDay* Desk::boat_at() const {
    const auto found = std::ranges::find_if(
        boats_, [this](const app::BoatDay& each) { return form_.boat == each.boat.id; });
    return found == boats_.end() ? nullptr : &*found;
}

const app::Carried* Desk::carried_at() const {
    const auto* boat = boat_at();
    if (boat == nullptr || (form_.task != Task::plan && form_.task != Task::pack)) return nullptr;
    const auto found = std::ranges::find_if(boat->carries, [this](const app::Carried& row) {
        return (row.code.empty() ? row.class_name : row.code) == form_.row;
    });
    return found == boat->carries.end() ? nullptr : &*found;
}

const Boat* Desk::person_boat() const {
    if (form_.task != Task::people) return nullptr;
    const auto found = std::ranges::find(all_boats_, form_.row, &Boat::name);
    return found == all_boats_.end() ? nullptr : &*found;
}

const Client* Desk::person_client() const {
    if (form_.task != Task::people) return nullptr;
    const auto found = std::ranges::find(clients_, form_.row, &Client::code);
    return found == clients_.end() ? nullptr : &*found;
}

std::vector<std::string> Desk::keys() const {
    std::vector<std::string> found;
    switch (form_.task) {
        case Task::plan:
        case Task::pack:
            if (const auto* boat = boat_at()) {
                for (const auto& row : boat->carries) {
                    found.push_back(row.code.empty() ? row.class_name : row.code);
                }
            }
            break;
        case Task::back:
            for (const auto& each : out_) found.push_back(each.code);
            break;
        case Task::people:
            for (const auto& boat : all_boats_) found.push_back(boat.name);
            for (const auto& client : clients_) found.push_back(client.code);
            break;
    }
    return found;
}

std::string Desk::doubts_on(const std::string& code) const {
    for (const auto& each : problems_) {
        if (each.what == code) return ". But " + each.sentence;
    }
    return "";
}

std::vector<const app::PlanProblem*> Desk::problems_in_order() const {
    std::vector<const app::PlanProblem*> order;
    const auto* boat = boat_at();
    const auto is_ours = [&](const app::PlanProblem& each) {
        return boat != nullptr && std::ranges::find(boat->problems, each) != boat->problems.end();
    };
    for (const bool ours : {true, false}) {
        for (const auto& each : problems_) {
            if (is_ours(each) == ours) order.push_back(&each);
        }
    }
    return order;
}

bool Desk::hand(Whereabouts to, const std::string& code, const std::string& boat) {
    return done(app::hand_over(workshop(), {to, boat, {}, {}, {code}}));
}

void Desk::run(const EnterCode& command) {
    code_error_.clear();
    const std::string code(trimmed(command.code));
    const std::string asked = std::exchange(form_.asked_code, {});
    if (code.empty()) return;
    switch (form_.task) {
        case Task::plan:
            plan(code);
            break;
        case Task::pack:
            pack(code, asked == code);
            break;
        case Task::back:
            take_back(code, asked == code);
            break;
        case Task::people:
            find_person(code);
            break;
    }
    if (!code_error_.empty() || !form_.asked_code.empty()) return;
    form_.code.clear();
    form_.is_rewritten = true;
}

void Desk::run(const StepDay& command) {
    if (command.days == 0) {
        const Day now = app::today(workshop());
        form_.day = now;
        read();
        if (boats_.empty()) form_.day = now + std::chrono::days{1};
    } else {
        form_.day += std::chrono::days{command.days};
    }
    form_.asked_code.clear();
    code_error_.clear();
    read();
}

void Desk::run(const ChooseBoat& command) {
    form_.boat = command.boat;
    form_.asked_code.clear();
    code_error_.clear();
    if (form_.task == Task::back || form_.task == Task::people) form_.task = Task::pack;
    read();
}

void Desk::run(const StepBoat& command) {
    if (boats_.empty()) return;
    const auto* now = boat_at();
    const auto at = now == nullptr ? 0 : now - boats_.data() + command.step;
    const auto next = std::clamp<std::ptrdiff_t>(at, 0, std::ssize(boats_) - 1);
    run(ChooseBoat{boats_[static_cast<std::size_t>(next)].boat.id});
}

void Desk::run(const StepRow& command) {
    const auto shown = keys();
    if (shown.empty()) return;
    const auto here = std::ranges::find(shown, form_.row) - shown.begin();
    const auto next = std::clamp<std::ptrdiff_t>(here + command.step, 0, std::ssize(shown) - 1);
    form_.row = shown[static_cast<std::size_t>(next)];
    form_.scrolls = true;
    form_.is_asked_again = false;
}

void Desk::run(const TickRow&) {
    const auto asked = std::exchange(form_.asked_code, {});
    if (form_.task == Task::back) return take_back(form_.row, asked == form_.row);
    const auto* row = carried_at();
    if (row == nullptr || row->code.empty()) return;
    if (!row->is_ticked) return pack(row->code, false);
    const std::string code = row->code;
    if (row->is_within && inventory().custody().place_of(*inventory().thing_called(code)).rig) {
        code_error_ = code + " goes where its rig goes: take the tick off the rig";
        return;
    }
    if (hand(Whereabouts::bin, code)) message_ = code + " is not aboard any more";
}

void Desk::run(const DropRow&) {
    const auto* row = carried_at();
    if (row == nullptr) return;
    const std::string what = row->code.empty() ? row->class_name : row->code;
    const std::string name = boat_at()->boat.name;
    if (!done(app::withdraw_promises(workshop(), form_.day, name, {what}))) return;
    message_ = what + " is not on the plan of " + name + " any more";
}

void Desk::run(const NoteRow& command) {
    const auto* row = carried_at();
    const std::string code = form_.task == Task::back ? form_.row : row != nullptr ? row->code : "";
    if (code.empty() || !hand(command.where, code)) return;
    message_ = fmt::format("{} is noted as {}", code, name_of(command.where));
}

void Desk::run(const FillGap&) {
    const auto* boat = boat_at();
    if (boat == nullptr) return;
    for (const auto& each : boat->problems) {
        if (each.would_help.empty()) continue;
        const auto code = each.would_help.front();
        const auto name = boat->boat.name;
        if (!done(app::promise_things(workshop(), form_.day, name, {}, {code}))) return;
        form_.row = code;
        message_ = name + " carries " + code;
        return;
    }
}

void Desk::run(const CallOff&) {
    const auto* boat = boat_at();
    if (boat == nullptr) return;
    const auto name = boat->boat.name;
    if (!done(app::cancel_outings(workshop(), form_.day, name))) return;
    message_ = name + " stays at home on " + day_text(form_.day) + ". Ctrl Z takes that back.";
}

void Desk::run(const SavePacking&) {
    const auto* boat = boat_at();
    if (boat == nullptr) return;
    const auto file = app::save_packing_list(workshop(), form_.day, boat->boat.name);
    if (!file) {
        code_error_ = said_here(file.error());
        return;
    }
    message_ = "Saved the packing list: " + file->string();
}

void Desk::run(const EndRow&) {
    const auto* boat = person_boat();
    const auto* client = person_client();
    if (boat == nullptr && client == nullptr) return;
    if (!form_.is_asked_again) {
        form_.is_asked_again = true;
        message_ = boat != nullptr ? "Once more retires boat " + boat->name + " for good."
                                   : "Once more erases name and notes of client " + client->code +
                                         " for good, history included. There is no undo.";
        return;
    }
    form_.is_asked_again = false;
    if (boat != nullptr) {
        const auto name = boat->name;
        if (done(app::retire_boat(workshop(), *boat, today_))) message_ = "Retired: boat " + name;
        return;
    }
    const auto forgotten = app::forget_client(workshop(), client->code);
    if (!done(forgotten)) return;
    message_ = "Forgotten: client " + forgotten->code;
    if (!forgotten->copies.empty() || !forgotten->mentions.empty()) {
        std::vector<std::string> places = forgotten->mentions;
        for (const auto& copy : forgotten->copies) places.push_back(copy.string());
        failure_ = "The name may still stand in " + listed(places) + ". Delete what must go.";
    }
}

}  // namespace coilbook::bench::day_page
