#include "bench/pages/day/day_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "app/outfit.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::day_page {
namespace {

// "2 T-11", "2 x T-11" or "T-11": so many of a class.
std::pair<int, std::string> need_in(std::string_view typed) {
    const auto text = trimmed(typed);
    int count = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), count);
    const auto rest =
        std::string_view(end, static_cast<std::size_t>(text.data() + text.size() - end));
    if (error != std::errc{} || rest.empty() || rest.front() != ' ') return {1, std::string(text)};
    auto name = trimmed(rest);
    if (name.starts_with("x ") || name.starts_with("X ")) name = trimmed(name.substr(2));
    return {count, std::string(name)};
}

}  // namespace

const View& Desk::view() {
    look_round();
    if (is_stale_ || form_ != form_shown_) {
        view_ = made_view();
        form_shown_ = form_;
        is_stale_ = false;
    }
    return view_;
}

bool Desk::act() {
    if (!outbox_.commands.empty()) look_round();  // commands are about what is there now
    const bool any = carry_out(
        outbox_, [this](const auto& each) { run(each); },
        [this](const Error& error) { failure_ = error.what(); });
    if (any) is_stale_ = true;
    return any;
}

bool Desk::look_round() {
    try {
        if (!has_changed()) return false;
        if (form_.day == Day{}) {
            run(StepDay{0});
        } else {
            read();
        }
    } catch (const Error& error) {
        say_failure(error.what());
    }
    return true;
}

void Desk::read() {
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

template <class T>
bool Desk::done(const Result<T>& result) {
    if (!result) {
        code_error_ = said_here(result.error());
        message_.clear();
        return false;
    }
    code_error_.clear();
    refresh();
    return true;
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

void Desk::plan(const std::string& code) {
    const auto* boat = boat_at();
    if (boat == nullptr) {
        code_error_ = "No boat goes out on this day yet: Ctrl N first.";
        return;
    }
    const std::string name = boat->boat.name;
    const auto thing = inventory().thing_called(code);
    if (thing) {
        const auto known = inventory().code_of(*thing);
        const bool is_there = std::ranges::any_of(boat->carries, [&](const app::Carried& row) {
            return row.code == known && row.is_planned;
        });
        if (is_there) {
            message_ = known + " is on the plan of " + name + " already";
            return;
        }
        if (!done(app::promise_things(workshop(), form_.day, name, {}, {known}))) return;
        form_.row = known;
        message_ = name + " carries " + known + doubts_on(known);
        return;
    }
    const auto [count, typed] = need_in(code);
    const auto& library = workshop().library();
    const auto known = std::ranges::find_if(library, [&](const ReferenceClass& each) {
        return lower_ascii(each.name) == lower_ascii(typed);
    });
    if (known == library.end()) {
        code_error_ = said_here(thing.error()) + "; nor is it a class, such as 2 T-11";
        return;
    }
    if (!done(app::promise_class(workshop(), form_.day, name, {}, known->name, count))) return;
    form_.row = known->name;
    message_ =
        fmt::format("{} carries {} of {}", name, count, known->name) + doubts_on(known->name);
}

void Desk::pack(const std::string& code, bool even_unplanned) {
    const auto* boat = boat_at();
    if (boat == nullptr) {
        code_error_ = "No boat goes out on this day yet: Ctrl N first.";
        return;
    }
    const auto thing = inventory().thing_called(code);
    if (!thing) {
        code_error_ = said_here(thing.error());
        return;
    }
    const std::string name = boat->boat.name, known = inventory().code_of(*thing);
    const auto row = std::ranges::find(boat->carries, known, &app::Carried::code);
    const bool is_on_list = row != boat->carries.end();
    const auto place = inventory().custody().place_of(*thing);
    if (is_on_list && row->is_ticked) {
        form_.row = known;
        form_.scrolls = true;
        message_ = known + " is aboard " + name + " already";
        return;
    }
    if (place.rig) {
        const auto rig = inventory().code_of(Thing(*place.rig));
        code_error_ = fmt::format("{} is {} and goes where that goes: scan {}", known,
                                  inventory().words_for(place), rig);
        return;
    }
    const bool is_needed = std::ranges::any_of(boat->carries, [&](const app::Carried& each) {
        return !each.is_ticked && each.class_name == inventory().class_of(*thing);
    });
    if (!is_on_list && !is_needed && !even_unplanned) {
        form_.asked_code = code;
        question_ = known + " is not on the plan of " + name + ". Again takes it all the same.";
        return;
    }
    if (!hand(Whereabouts::boat, known, name)) return;
    form_.row = known;
    form_.scrolls = true;
    message_ = known + " is aboard " + name;
}

void Desk::take_back(const std::string& code, bool without_its_rig) {
    const auto thing = inventory().thing_called(code);
    if (!thing) {
        code_error_ = said_here(thing.error());
        return;
    }
    const std::string known = inventory().code_of(*thing);
    std::size_t inside = 0;
    if (const auto* rig = std::get_if<Id<Rig>>(&*thing)) {
        inside = inventory().custody().in_rig(*rig).size();
    }
    const auto place = inventory().custody().place_of(*thing);
    if (place.rig && !without_its_rig) {
        form_.asked_code = code;
        question_ = fmt::format(
            "{} is {} and comes back with it: scan {}. Again: it came without the rig.", known,
            inventory().words_for(place), inventory().code_of(Thing(*place.rig)));
        return;
    }
    if (!hand(Whereabouts::bin, known)) return;
    message_ = known + " is back";
    if (inside > 0) {
        message_ += fmt::format(
            ", and with it what is on it and in its wallet: {}. Look whether "
            "all are there",
            coils(inside));
    }
}

void Desk::find_person(const std::string& code) {
    const auto wanted = lower_ascii(code);
    for (const auto& boat : all_boats_) {
        if (!lower_ascii(boat.name).starts_with(wanted)) continue;
        form_.row = boat.name;
        form_.scrolls = true;
        return;
    }
    for (const auto& client : clients_) {
        const bool is_so_called =
            lower_ascii(client.code) == wanted ||
            (client.person && lower_ascii(client.person->name).starts_with(wanted));
        if (!is_so_called) continue;
        form_.row = client.code;
        form_.scrolls = true;
        return;
    }
    code_error_ = "No boat and no client is called " + coilbook::quoted(code);
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

void Desk::run(const Undo&) {
    went_back(go_back(workshop()));
    read();
}

void Desk::run(const Redo&) {
    went_back(go_forth(workshop()));
    read();
}

void Desk::run(const CloseFailure&) {
    failure_.clear();
}

}  // namespace coilbook::bench::day_page
