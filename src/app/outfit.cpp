#include "app/outfit.h"

#include <algorithm>
#include <functional>
#include <map>
#include <sstream>

#include "app/codes.h"
#include "app/embedded.h"
#include "app/inventory.h"
#include "base/text.h"
#include "exchange/csv.h"
#include "quantity/parse.h"
#include "store/backup_places.h"
#include "store/client_repository.h"
#include "store/outing_repository.h"

extern "C" {
extern const char coilbook_demo_boats_begin[];
extern const char coilbook_demo_boats_end[];
extern const char coilbook_demo_clients_begin[];
extern const char coilbook_demo_clients_end[];
}

namespace coilbook::app {
namespace {

Result<std::optional<int>> number_in(const std::string& text, const char* field) {
    if (trimmed(text).empty()) return std::optional<int>{};
    const auto number = parse_number(text);
    if (!number || *number != static_cast<int>(*number)) {
        return problem(field, coilbook::quoted(text) + " is no whole number", "a number such as 3");
    }
    return static_cast<int>(*number);
}

Result<std::optional<LineSize>> size_in(const std::string& text) {
    if (trimmed(text).empty()) return std::optional<LineSize>{};
    const auto size = line_size_from(text);
    if (!size) return tl::unexpected(size.error());
    return *size;
}

// A row of a file by the names of its columns; a column that is not there is empty.
using NamedRow = std::map<std::string, std::string>;

using Taken = tl::expected<int, std::vector<Problem>>;

// Calls `take` with every row; gives how many there were, or everything that was wrong.
Taken for_each_row(Result<exchange::CsvReader> reader, const std::vector<std::string>& columns,
                   const std::function<Result<void>(const NamedRow&)>& take) {
    if (!reader) return tl::unexpected(std::vector{reader.error()});
    std::vector<Problem> problems;
    for (const auto& head : reader->header().cells) {
        if (std::ranges::find(columns, lower_ascii(trimmed(head))) == columns.end()) {
            problems.push_back(exchange::in_file(
                reader->name(), reader->header().line,
                {"", coilbook::quoted(head) + " is no column of this file", listed(columns)}));
        }
    }
    int count = 0;
    while (problems.empty()) {
        auto row = reader->next();
        if (!row) return count;
        if (!*row) {
            problems.push_back(row->error());
            break;
        }
        NamedRow named;
        for (std::size_t at = 0; at < (*row)->cells.size(); ++at) {
            named[lower_ascii(trimmed(reader->header().cells[at]))] = trimmed((*row)->cells[at]);
        }
        if (const auto taken = take(named); !taken) {
            problems.push_back(exchange::in_file(reader->name(), (*row)->line, taken.error()));
        }
        ++count;
    }
    return tl::unexpected(problems);
}

// Runs `take_all` as one act; nothing of it stays where it finds problems.
Taken in_one_act(Workshop& workshop, const std::string& what,
                 const std::function<Taken(store::Act&)>& take_all) {
    Taken taken = 0;
    const auto done =
        workshop.catalogue().act(workshop.note(what), [&](store::Act& act) -> Result<void> {
            taken = take_all(act);
            if (!taken) return tl::unexpected(taken.error().front());
            return {};
        });
    static_cast<void>(done);  // `taken` has all that it has
    return taken;
}

Boat a_boat(Workshop& workshop, std::string_view name, std::optional<int> seats,
            std::string_view notes) {
    return {.id = workshop.new_id<Boat>(),
            .name = std::string(trimmed(name)),
            .seats = seats,
            .notes = std::string(trimmed(notes)),
            .made_at = workshop.surroundings().now()};
}

Client a_client(Workshop& workshop, const Person& person) {
    return {.id = workshop.new_id<Client>(),
            .code = new_code(workshop),
            .made_at = workshop.surroundings().now(),
            .person = person};
}

Taken boats_from(Workshop& workshop, Result<exchange::CsvReader> reader) {
    return in_one_act(workshop, "take in boats", [&](store::Act& act) {
        return for_each_row(std::move(reader), {"name", "seats", "notes"},
                            [&](const NamedRow& row) -> Result<void> {
                                auto cells = row;
                                const auto seats = number_in(cells["seats"], "seats");
                                if (!seats) return tl::unexpected(seats.error());
                                return workshop.catalogue().outings().add_boat(
                                    act, a_boat(workshop, cells["name"], *seats, cells["notes"]));
                            });
    });
}

Taken clients_from(Workshop& workshop, Result<exchange::CsvReader> reader) {
    return in_one_act(workshop, "take in clients", [&](store::Act& act) {
        return for_each_row(std::move(reader), {"name", "line_size", "hand", "notes"},
                            [&](const NamedRow& row) -> Result<void> {
                                auto cells = row;
                                const auto size = size_in(cells["line_size"]);
                                if (!size) return tl::unexpected(size.error());
                                const Person person{cells["name"], *size,
                                                    lower_ascii(cells["hand"]), cells["notes"]};
                                return workshop.catalogue().clients().add(
                                    act, a_client(workshop, person));
                            });
    });
}

// Files beside the catalogue and in its folder of backups that are catalogues by their names.
std::vector<std::filesystem::path> copies_of(const std::filesystem::path& file) {
    std::vector<std::filesystem::path> copies;
    if (file.empty()) return copies;
    std::error_code error;
    for (const auto& folder : {store::backup_folder_of(file), file.parent_path()}) {
        for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
            const bool is_copy = entry.path().extension() == ".coilbook" && entry.path() != file;
            if (is_copy) copies.push_back(entry.path());
        }
    }
    std::ranges::sort(copies);
    return copies;
}

}  // namespace

Result<Boat> add_boat(Workshop& workshop, std::string_view name, std::optional<int> seats,
                      std::string_view notes) {
    const auto boat = a_boat(workshop, name, seats, notes);
    const auto added = workshop.catalogue().act(
        workshop.note("add boat " + boat.name),
        [&](store::Act& act) { return workshop.catalogue().outings().add_boat(act, boat); });
    if (!added) return tl::unexpected(added.error());
    return boat;
}

Result<Boat> boat_called(Workshop& workshop, std::string_view name) {
    if (const auto found = workshop.catalogue().outings().boat_named(name)) return *found;
    std::vector<std::string> names;
    for (const auto& boat : workshop.catalogue().outings().boats()) names.push_back(boat.name);
    return problem("boat", "there is no boat " + coilbook::quoted(name),
                   names.empty() ? "'coilbook boat add NAME' first" : listed(names));
}

std::vector<Boat> boats(Workshop& workshop) {
    return workshop.catalogue().outings().boats();
}

Result<void> change_boat(Workshop& workshop, const Boat& boat) {
    auto told = boat;
    told.name = trimmed(boat.name);
    return workshop.catalogue().act(
        workshop.note("change boat " + told.name),
        [&](store::Act& act) { return workshop.catalogue().outings().change_boat(act, told); });
}

Result<void> retire_boat(Workshop& workshop, const Boat& boat, Day today) {
    Inventory inventory(workshop);
    std::vector<std::string> codes;
    for (const auto& thing : inventory.custody().on_boat(boat.id)) {
        if (codes.size() < 5) codes.push_back(inventory.code_of(thing));
    }
    if (!codes.empty()) {
        return problem("boat", "boat " + boat.name + " still has " + listed(codes),
                       "hand them back, or note them as lost, first");
    }
    auto& outings = workshop.catalogue().outings();
    for (const auto& day : outings.days()) {
        if (day < today) continue;
        const auto planned = outings.outings_on(day);
        if (std::ranges::find(planned, boat.id, &Outing::boat) != planned.end()) {
            return problem("boat", "boat " + boat.name + " is to go out on " + day_text(day),
                           "call that off first");
        }
    }
    auto retired = boat;
    retired.is_retired = true;
    return workshop.catalogue().act(
        workshop.note("retire boat " + boat.name),
        [&](store::Act& act) { return outings.change_boat(act, retired); });
}

void write_boats(Workshop& workshop, std::ostream& out, Format format, std::size_t terminal_width) {
    RowWriter writer(out, {{"name"}, {"seats", true}, {"notes"}}, format, terminal_width);
    for (const auto& boat : workshop.catalogue().outings().boats()) {
        writer.add({boat.name, boat.seats ? Cell(std::int64_t{*boat.seats}) : Cell{},
                    cell_of(boat.notes)});
    }
    writer.finish();
}

Result<Client> add_client(Workshop& workshop, const Person& person) {
    const auto client = a_client(workshop, person);
    const auto added = workshop.catalogue().act(
        workshop.note("add client " + client.code),
        [&](store::Act& act) { return workshop.catalogue().clients().add(act, client); });
    if (!added) return tl::unexpected(added.error());
    return client;
}

std::vector<Client> clients(Workshop& workshop) {
    auto known = workshop.catalogue().clients().list();
    std::erase_if(known, [](const Client& client) { return !client.person; });
    return known;
}

Result<void> change_client(Workshop& workshop, const Client& client) {
    return workshop.catalogue().act(
        workshop.note("change client " + client.code),
        [&](store::Act& act) { return workshop.catalogue().clients().change(act, client); });
}

Result<Client> client_called(Workshop& workshop, std::string_view code_or_name) {
    const auto found = workshop.catalogue().clients().called(code_or_name);
    if (found.size() == 1) return found.front();
    if (found.empty()) {
        return problem("client", "there is no client " + coilbook::quoted(code_or_name),
                       "a code or name that 'coilbook client list' shows");
    }
    return problem("client", "several clients are called " + coilbook::quoted(code_or_name),
                   "the code of one; 'coilbook client list' shows them");
}

void write_clients(Workshop& workshop, bool with_names, std::ostream& out, Format format,
                   std::size_t terminal_width) {
    const bool shows = with_names || format == Format::table;
    RowWriter writer(out, {{"code"}, {"name"}, {"line_size", true}, {"hand"}, {"notes"}}, format,
                     terminal_width);
    for (const auto& client : workshop.catalogue().clients().list()) {
        if (!client.person) {
            writer.add({client.code, format == Format::table ? Cell("(forgotten)") : Cell{}, Cell{},
                        Cell{}, Cell{}});
            continue;
        }
        const auto& person = *client.person;
        writer.add({client.code, shows ? cell_of(person.name) : Cell{},
                    person.line_size ? Cell(std::int64_t{person.line_size->number}) : Cell{},
                    cell_of(person.hand), shows ? cell_of(person.notes) : Cell{}});
    }
    writer.finish();
}

Result<Forgotten> forget_client(Workshop& workshop, std::string_view code_or_name) {
    const auto client = client_called(workshop, code_or_name);
    if (!client) return tl::unexpected(client.error());
    auto& clients = workshop.catalogue().clients();
    Forgotten forgotten{client->code, {}, {}};
    if (client->person) forgotten.mentions = clients.mentions_of(client->person->name);
    if (!client->is_forgotten) {
        workshop.catalogue().act(workshop.note("forget client " + client->code),
                                 [&](store::Act& act) { clients.forget(act, client->id); });
    }
    forgotten.copies = copies_of(workshop.catalogue().file());
    workshop.catalogue().wipe_deleted();
    return forgotten;
}

tl::expected<int, std::vector<Problem>> take_in_boats(Workshop& workshop,
                                                      const std::filesystem::path& file) {
    return boats_from(workshop, exchange::CsvReader::open(file));
}

tl::expected<int, std::vector<Problem>> take_in_clients(Workshop& workshop,
                                                        const std::filesystem::path& file) {
    return clients_from(workshop, exchange::CsvReader::open(file));
}

DemoOutfit take_in_demo_outfit(Workshop& workshop) {
    std::istringstream boats(embedded_text(coilbook_demo_boats_begin, coilbook_demo_boats_end));
    std::istringstream clients(
        embedded_text(coilbook_demo_clients_begin, coilbook_demo_clients_end));
    const auto taken_boats =
        boats_from(workshop, exchange::CsvReader::over(boats, "the demonstration's boats"));
    const auto taken_clients =
        clients_from(workshop, exchange::CsvReader::over(clients, "the demonstration's clients"));
    if (!taken_boats) throw Error(to_line(taken_boats.error().front()));
    if (!taken_clients) throw Error(to_line(taken_clients.error().front()));
    return {*taken_boats, *taken_clients};
}

}  // namespace coilbook::app
