// Boats and clients: adding them, finding them by name, and forgetting a person.
//
// A client's name is personal data. It is kept in the catalogue alone: the history, labels and
// exports call a client by the code.
#pragma once

#include <filesystem>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/table.h"
#include "app/workshop.h"
#include "catalog/outing.h"

namespace coilbook::app {

[[nodiscard]] Result<Boat> add_boat(Workshop& workshop, std::string_view name,
                                    std::optional<int> seats, std::string_view notes);
// In any capitals. A Problem names the boats that there are.
[[nodiscard]] Result<Boat> boat_called(Workshop& workshop, std::string_view name);
// Those that are not retired, by name.
[[nodiscard]] std::vector<Boat> boats(Workshop& workshop);
// The boat of that id becomes as told.
[[nodiscard]] Result<void> change_boat(Workshop& workshop, const Boat& boat);
// The boat is gone for good; its past stays, and its name becomes free. A Problem while something
// is out with it, and while it is to go out on `today` or later.
[[nodiscard]] Result<void> retire_boat(Workshop& workshop, const Boat& boat, Day today);
// Columns: name, seats, notes.
void write_boats(Workshop& workshop, std::ostream& out, Format format,
                 std::size_t terminal_width = 0);

// Adds a client under a new code.
[[nodiscard]] Result<Client> add_client(Workshop& workshop, const Person& person);
// Those who were not forgotten, by name.
[[nodiscard]] std::vector<Client> clients(Workshop& workshop);
// What the client of that id is called and is like, told anew. There is no undo: no history of it
// is kept.
[[nodiscard]] Result<void> change_client(Workshop& workshop, const Client& client);
// By code, or by name in any capitals. A Problem where nobody, or more than one, is called so.
[[nodiscard]] Result<Client> client_called(Workshop& workshop, std::string_view code_or_name);
// Columns: code, name, line_size, hand, notes. As csv or json the personal ones, name and notes,
// are empty unless they are asked for.
void write_clients(Workshop& workshop, bool with_names, std::ostream& out, Format format,
                   std::size_t terminal_width = 0);

struct Forgotten {
    std::string code;
    // Copies of the catalogue, beside it and in its folder of backups, that may still hold the
    // name.
    std::vector<std::filesystem::path> copies;
    // Where somebody typed the name into words that are kept for ever.
    std::vector<std::string> mentions;
};
// Erases what the client is called and is like, for good, also from the file's free places and its
// log; outings keep the code. Throws Error where another program is reading the file: then the
// person is forgotten, and doing it again wipes the file.
[[nodiscard]] Result<Forgotten> forget_client(Workshop& workshop, std::string_view code_or_name);

// Boats (`name,seats,notes`) or clients (`name,line_size,hand,notes`) from a CSV file, all or none;
// the problems name their lines. `hand` is left or right. Gives how many.
[[nodiscard]] tl::expected<int, std::vector<Problem>> take_in_boats(
    Workshop& workshop, const std::filesystem::path& file);
[[nodiscard]] tl::expected<int, std::vector<Problem>> take_in_clients(
    Workshop& workshop, const std::filesystem::path& file);

// The invented boats and clients of the demonstration, as they were when the program was built.
struct DemoOutfit {
    int boats = 0;
    int clients = 0;
};
DemoOutfit take_in_demo_outfit(Workshop& workshop);

}  // namespace coilbook::app
