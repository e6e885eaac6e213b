// Boats, clients, and who goes out in which boat on which day with what.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "base/id.h"
#include "base/instant.h"
#include "base/result.h"
#include "catalog/coil.h"
#include "catalog/rig.h"

namespace coilbook {

struct Boat {
    Id<Boat> id;
    std::string name;  // "Heron"; unique among the boats that are not retired
    std::optional<int> seats;
    std::string notes;
    Instant made_at;
    bool is_retired = false;

    bool operator==(const Boat&) const = default;
};

// What a client is called and is like: personal data, kept nowhere but in the catalogue, and erased
// when the client is forgotten.
struct Person {
    std::string name;
    std::optional<LineSize> line_size;
    std::string hand;  // "left", "right" or empty
    std::string notes;

    bool operator==(const Person&) const = default;
};

// Somebody who is taken out. Outside the catalogue a client is called by the code.
struct Client {
    Id<Client> id;
    std::string code;
    Instant made_at;
    std::optional<Person> person;  // nothing: forgotten
    bool is_forgotten = false;

    bool operator==(const Client&) const = default;
};

// A day as the calendar at home has it, whatever the clock of the computer says in UTC.
using Day = std::chrono::sys_days;
[[nodiscard]] std::string day_text(Day day);  // "2026-06-14"
// A Problem for anything but year-month-day, as ISO 8601 writes it, of a day that there is.
[[nodiscard]] Result<Day> day_from(std::string_view text);

// One client, or the guide alone, in one boat for one day. Several go in one boat.
struct Outing {
    Id<Outing> id;
    Day day;
    Id<Boat> boat;
    std::optional<Id<Client>> client;
    bool is_cancelled = false;

    bool operator==(const Outing&) const = default;
};

// So many tips, or whatever it is, of one class of the library.
struct ClassNeed {
    std::string class_name;
    int count = 1;

    bool operator==(const ClassNeed&) const = default;
};

// What an outing is to carry: this rig, this coil, or so many of a class.
struct Promise {
    Id<Promise> id;
    Id<Outing> outing;
    std::variant<Id<Rig>, Id<Coil>, ClassNeed> what;

    bool operator==(const Promise&) const = default;
};

}  // namespace coilbook
