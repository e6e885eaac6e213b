// coilbook boat, client and forget: who takes whom out.
#include <memory>
#include <optional>
#include <string>

#include "app/day.h"
#include "app/outfit.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog, name, notes, hand, size, file;
    std::optional<int> seats;
    std::optional<std::string> new_name, new_size, new_hand, new_notes;
    bool with_names = false;
    app::Format format = app::Format::table;
};
using Shared = std::shared_ptr<Options>;

int add_boat_of(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(app::add_boat(workshop, options.name, options.seats, options.notes), terminal);
}

int change_boat_of(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto found = app::boat_called(workshop, options.name);
    if (!found) return status_of(found, terminal);
    auto boat = *found;
    if (options.new_name) boat.name = *options.new_name;
    if (options.seats) boat.seats = options.seats;
    if (options.new_notes) boat.notes = *options.new_notes;
    return status_of(app::change_boat(workshop, boat), terminal);
}

int retire_boat_of(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto boat = app::boat_called(workshop, options.name);
    if (!boat) return status_of(boat, terminal);
    return status_of(app::retire_boat(workshop, *boat, app::today(workshop)), terminal);
}

int list_boats(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::write_boats(workshop, terminal.out, options.format, terminal.out_width);
    return done;
}

int add_client_of(const Options& options, const Terminal& terminal) {
    Person person{options.name, {}, options.hand, options.notes};
    if (!options.size.empty()) person.line_size = value_of("--size", line_size_from(options.size));
    auto workshop = open_workshop(options.catalog, terminal);
    const auto added = app::add_client(workshop, person);
    if (added) terminal.out << added->code << '\n';
    return status_of(added, terminal);
}

int change_client_of(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto found = app::client_called(workshop, options.name);
    if (!found) return status_of(found, terminal);
    auto client = *found;
    if (client.person) {
        if (options.new_name) client.person->name = *options.new_name;
        if (options.new_hand) client.person->hand = *options.new_hand;
        if (options.new_notes) client.person->notes = *options.new_notes;
        if (options.new_size) {
            client.person->line_size.reset();
            if (!options.new_size->empty()) {
                client.person->line_size = value_of("--size", line_size_from(*options.new_size));
            }
        }
    }
    return status_of(app::change_client(workshop, client), terminal);
}

int list_clients(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::write_clients(workshop, options.with_names, terminal.out, options.format,
                       terminal.out_width);
    return done;
}

int told(const tl::expected<int, std::vector<Problem>>& taken, const char* what,
         const Terminal& terminal) {
    if (taken) {
        terminal.err << "took in " << *taken << ' ' << what << '\n';
        return done;
    }
    for (const auto& problem : taken.error()) tell(terminal, problem);
    terminal.err << "Nothing was taken in.\n";
    return could_not_be_done;
}

int take_in_boats(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return told(app::take_in_boats(workshop, options.file), "boats", terminal);
}

int take_in_clients(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return told(app::take_in_clients(workshop, options.file), "clients", terminal);
}

int forget(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto forgotten = app::forget_client(workshop, options.name);
    if (!forgotten) return status_of(forgotten, terminal);
    terminal.err << "client " << forgotten->code
                 << " is forgotten: name and notes are erased, from the history too\n";
    for (const auto& place : forgotten->mentions) {
        terminal.err << "note: the name was typed into " << app::on_one_line(place)
                     << ", which is kept\n";
    }
    if (forgotten->copies.empty()) {
        terminal.err << "note: copies of the catalogue made elsewhere, and other laptops that were "
                        "not merged since, still hold the name\n";
    } else {
        terminal.err
            << "note: these copies of the catalogue may still hold the name; delete them if "
               "it must go, and those made elsewhere:\n";
        for (const auto& copy : forgotten->copies) {
            terminal.err << "  " << app::on_one_line(copy.string()) << '\n';
        }
    }
    return done;
}

}  // namespace

void add_boat(CLI::App& program, const Terminal& terminal, int& status) {
    auto* boat = program.add_subcommand("boat", "The boats");
    boat->require_subcommand(1);
    boat->footer("Example:\n  coilbook boat add Heron --seats 3");

    auto options = std::make_shared<Options>();
    auto* command = add_below(*boat, "add", "Add a boat", options, terminal, status, add_boat_of);
    command->add_option("NAME", options->name, "Its name")->type_name("")->required();
    command->add_option("--seats", options->seats, "How many people it takes, the guide included")
        ->type_name("N");
    command->add_option("--notes", options->notes, "Whatever should be remembered")
        ->type_name("TEXT");
    command->footer("Example:\n  coilbook boat add Heron --seats 3");

    options = std::make_shared<Options>();
    command = add_below(*boat, "change", "Tell anew what a boat is; what is not named stays",
                        options, terminal, status, change_boat_of);
    command->add_option("NAME", options->name, "Its name")->type_name("")->required();
    command->add_option("--name", options->new_name, "Another name")->type_name("TEXT");
    command->add_option("--seats", options->seats, "How many people it takes, the guide included")
        ->type_name("N");
    command->add_option("--notes", options->new_notes, "Whatever should be remembered")
        ->type_name("TEXT");
    command->footer("Example:\n  coilbook boat change Heron --seats 4");

    options = std::make_shared<Options>();
    command = add_below(*boat, "retire", "It goes out no more; its past is kept", options, terminal,
                        status, retire_boat_of);
    command->add_option("NAME", options->name, "Its name")->type_name("")->required();
    command->footer("Example:\n  coilbook boat retire Puddle");

    options = std::make_shared<Options>();
    command = add_below(*boat, "list", "All boats", options, terminal, status, list_boats);
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook boat list");

    options = std::make_shared<Options>();
    command = add_below(*boat, "take-in", "Boats from a CSV file: name, seats, notes", options,
                        terminal, status, take_in_boats);
    command->add_option("BOATS.csv", options->file, "The file")->type_name("")->required();
    command->footer("Example:\n  coilbook boat take-in boats.csv");
}

void add_client(CLI::App& program, const Terminal& terminal, int& status) {
    auto* client = program.add_subcommand("client", "The clients");
    client->require_subcommand(1);
    client->footer(
        "Names are kept in the catalogue alone; elsewhere a client is called by a code.\n"
        "Example:\n  coilbook client add \"Ida Brandvik\" --size 8");

    auto options = std::make_shared<Options>();
    auto* command = add_below(*client, "add", "Add a client; the code is printed", options,
                              terminal, status, add_client_of);
    command->add_option("NAME", options->name, "Their name")->type_name("")->required();
    command->add_option("--size", options->size, "The line size of their rod")->type_name("N");
    command->add_option("--hand", options->hand, "left or right")->type_name("HAND");
    command->add_option("--notes", options->notes, "Whatever should be remembered")
        ->type_name("TEXT");
    command->footer("Example:\n  coilbook client add \"Ida Brandvik\" --size 8 --hand right");

    options = std::make_shared<Options>();
    command = add_below(*client, "change",
                        "Tell anew who a client is; what is not named stays. There is no undo",
                        options, terminal, status, change_client_of);
    command->add_option("CLIENT", options->name, "The client's code or name")
        ->type_name("")
        ->required();
    command->add_option("--name", options->new_name, "Another name")->type_name("TEXT");
    command->add_option("--size", options->new_size, "The line size of their rod; '' for none")
        ->type_name("N");
    command->add_option("--hand", options->new_hand, "left, right or ''")->type_name("HAND");
    command->add_option("--notes", options->new_notes, "Whatever should be remembered")
        ->type_name("TEXT");
    command->footer("Example:\n  coilbook client change K7M3XM --size 7");

    options = std::make_shared<Options>();
    command = add_below(*client, "list", "All clients", options, terminal, status, list_clients);
    add_format(*command, options->format);
    command->add_flag("--with-names", options->with_names, "Names and notes in csv and json, too");
    command->footer("Example:\n  coilbook client list");

    options = std::make_shared<Options>();
    command = add_below(*client, "take-in", "Clients from a CSV file: name, line_size, hand, notes",
                        options, terminal, status, take_in_clients);
    command->add_option("CLIENTS.csv", options->file, "The file")->type_name("")->required();
    command->footer("Example:\n  coilbook client take-in clients.csv");
}

void add_forget(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = add_below(program, "forget", "Erase what a client is called, for good", options,
                              terminal, status, forget);
    command->add_option("CLIENT", options->name, "The client's code or name")
        ->type_name("")
        ->required();
    command->footer(
        "Outings keep the client's code, so the season still adds up. There is no undo. Backups "
        "may\n"
        "still hold the name: they are listed.\n"
        "Example:\n  coilbook forget \"Ida Brandvik\"");
}

}  // namespace coilbook::cli
