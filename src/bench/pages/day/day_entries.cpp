// An outing, a boat or a client, being typed and saved.
#include <fmt/format.h>

#include <algorithm>

#include "app/outfit.h"
#include "base/text.h"
#include "bench/pages/day/day_desk.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::day_page {
namespace {

// The name that what is typed begins, if it begins just one; else what is typed.
std::string completed(std::string_view typed, const std::vector<std::string>& names) {
    const auto wanted = lower_ascii(trimmed(typed));
    std::string found;
    for (const auto& name : names) {
        if (lower_ascii(name) == wanted) return name;
        if (wanted.empty() || !lower_ascii(name).starts_with(wanted)) continue;
        if (!found.empty()) return std::string(trimmed(typed));
        found = name;
    }
    return found.empty() ? std::string(trimmed(typed)) : found;
}

std::string in_a_row(const std::vector<std::string>& names) {
    constexpr std::size_t most = 8;
    std::string words;
    for (std::size_t at = 0; at < names.size() && at < most; ++at) {
        words += (words.empty() ? "" : ", ") + names[at];
    }
    return names.size() > most ? words + " …" : words;
}

std::vector<std::string> names_of(const std::vector<Boat>& boats) {
    std::vector<std::string> names;
    for (const auto& boat : boats) names.push_back(boat.name);
    return names;
}
std::vector<std::string> names_of(const std::vector<Client>& clients) {
    std::vector<std::string> names;
    for (const auto& client : clients) {
        if (client.person) names.push_back(client.person->name);
    }
    return names;
}

Result<std::optional<int>> seats_in(const std::string& typed) {
    if (typed.empty()) return std::optional<int>();
    const bool are_figures = typed.size() <= 2 && std::ranges::all_of(typed, [](char c) {
                                 return c >= '0' && c <= '9';
                             });
    if (!are_figures) {
        return problem("seats", coilbook::quoted(typed) + " is no number of people", "1 to 99");
    }
    return std::optional(std::stoi(typed));
}

}  // namespace

void Desk::run(const BeginEntry& command) {
    const auto* boat = command.is_new ? nullptr : person_boat();
    const auto* client = command.is_new ? nullptr : person_client();
    if (!command.is_new && boat == nullptr && client == nullptr) return;
    EntryForm form;
    const auto add = [&](const char* id, const char* label, const std::string& typed,
                         const char* hint = "", const std::string& note = "") {
        form.fields.push_back(
            {.id = id, .label = label, .hint = hint, .typed = typed, .note = note});
    };
    form_.entry_kind = boat != nullptr     ? EntryKind::boat
                       : client != nullptr ? EntryKind::client
                                           : command.kind;
    form_.entry_boat = boat != nullptr ? std::optional(boat->id) : std::nullopt;
    form_.entry_client = client != nullptr ? std::optional(client->id) : std::nullopt;
    switch (form_.entry_kind) {
        case EntryKind::outing:
            if (all_boats_.empty()) return run(BeginEntry{EntryKind::boat, true});
            form.title = "A boat goes out on " + day_text(form_.day);
            add("boat", "Boat", "", "its first letters will do", in_a_row(names_of(all_boats_)));
            add("client", "Client", "", "empty: the guide alone", in_a_row(names_of(clients_)));
            break;
        case EntryKind::boat:
            form.title = boat == nullptr ? "A new boat" : "Boat " + boat->name;
            add("name", "Its name", boat == nullptr ? "" : boat->name);
            add("seats", "How many people it takes, the guide included",
                boat != nullptr && boat->seats ? std::to_string(*boat->seats) : "",
                "empty: not known");
            add("notes", "Notes", boat == nullptr ? "" : boat->notes);
            break;
        case EntryKind::client: {
            const Person person = client != nullptr && client->person ? *client->person : Person{};
            form.title = client == nullptr ? "A new client" : "Client " + client->code;
            add("name", "Name: stays in this catalogue, never on a label", person.name);
            add("size", "Line size of their rod",
                person.line_size ? name_of(*person.line_size) : "", "a number, or empty");
            add("hand", "Hand", person.hand, "left, right or empty");
            add("notes", "Notes", person.notes);
            break;
        }
    }
    form_.entry = std::move(form);
    code_error_.clear();
}

void Desk::run(const SaveEntry&) {
    if (!form_.entry) return;
    switch (form_.entry_kind) {
        case EntryKind::outing:
            return save_outing();
        case EntryKind::boat:
            return save_boat();
        case EntryKind::client:
            return save_client();
    }
}

void Desk::fail(const Problem& problem) {
    refuse(*form_.entry, problem.field, said_here(problem));
}

void Desk::end_entry(const std::string& message) {
    form_.entry.reset();
    form_.frames_to_focus = frames_to_take_focus;
    message_ = message;
    refresh();
}

void Desk::save_outing() {
    const auto boat = completed(typed_in(*form_.entry, "boat"), names_of(all_boats_));
    const auto client = completed(typed_in(*form_.entry, "client"), names_of(clients_));
    const auto added = app::add_outing(workshop(), form_.day, boat, client);
    if (!added) return fail(added.error());
    form_.boat = added->boat;
    if (form_.task == Task::people || form_.task == Task::back) form_.task = Task::plan;
    end_entry(fmt::format("{} goes out on {}{}", boat, day_text(form_.day),
                          client.empty() ? "" : " with " + client));
}

void Desk::save_boat() {
    const std::string name(trimmed(typed_in(*form_.entry, "name")));
    const std::string notes(trimmed(typed_in(*form_.entry, "notes")));
    const auto seats = seats_in(std::string(trimmed(typed_in(*form_.entry, "seats"))));
    if (!seats) return fail(seats.error());
    if (!form_.entry_boat) {
        const auto added = app::add_boat(workshop(), name, *seats, notes);
        if (!added) return fail(added.error());
    } else {
        const auto known = std::ranges::find(all_boats_, *form_.entry_boat, &Boat::id);
        if (known == all_boats_.end()) return form_.entry.reset();
        auto boat = *known;
        boat.name = name;
        boat.seats = *seats;
        boat.notes = notes;
        if (boat != *known) {
            const auto told = app::change_boat(workshop(), boat);
            if (!told) return fail(told.error());
        }
    }
    form_.row = name;
    end_entry("Saved: boat " + name);
}

void Desk::save_client() {
    Person person{std::string(trimmed(typed_in(*form_.entry, "name"))),
                  {},
                  lower_ascii(trimmed(typed_in(*form_.entry, "hand"))),
                  std::string(trimmed(typed_in(*form_.entry, "notes")))};
    if (const auto typed = trimmed(typed_in(*form_.entry, "size")); !typed.empty()) {
        const auto size = line_size_from(typed);
        if (!size) return refuse(*form_.entry, "size", said_here(size.error()));
        person.line_size = *size;
    }
    if (!form_.entry_client) {
        const auto added = app::add_client(workshop(), person);
        if (!added) return fail(added.error());
        form_.row = added->code;
        return end_entry("Saved: client " + added->code);
    }
    const auto known = std::ranges::find(clients_, *form_.entry_client, &Client::id);
    if (known == clients_.end()) return form_.entry.reset();
    auto client = *known;
    client.person = person;
    if (client != *known) {
        const auto told = app::change_client(workshop(), client);
        if (!told) return fail(told.error());
    }
    end_entry("Saved: client " + client.code);
}

}  // namespace coilbook::bench::day_page
