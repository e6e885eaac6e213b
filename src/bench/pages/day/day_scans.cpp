// What a scanned code means in each task.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <utility>

#include "base/text.h"
#include "bench/pages/day/day_desk.h"
#include "bench/words.h"

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

}  // namespace coilbook::bench::day_page
