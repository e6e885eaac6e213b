// coilbook outing add|cancel|carry|need|drop|list|check|pack: the plan of a day.
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "app/day.h"
#include "app/labels.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog, day, boat, client, class_name, out, paper = "letter";
    std::vector<std::string> codes;
    int count = 1;
    bool with_names = false;
    app::Format format = app::Format::table;
};
using Shared = std::shared_ptr<Options>;

Day day_of(const Options& options) {
    return value_of("DAY", day_from(options.day));
}

int add(const Options& options, const Terminal& terminal) {
    const auto day = day_of(options);
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(app::add_outing(workshop, day, options.boat, options.client), terminal);
}

int cancel(const Options& options, const Terminal& terminal) {
    const auto day = day_of(options);
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(app::cancel_outings(workshop, day, options.boat), terminal);
}

// Tells of what is wrong with the plan by now, as notes.
void tell_problems(app::Workshop& workshop, Day day, const Terminal& terminal) {
    app::Inventory inventory(workshop);
    for (const auto& each : app::problems_of(workshop, inventory, day)) {
        terminal.err << "note: " << app::on_one_line(each.sentence) << '\n';
    }
}

int carry(const Options& options, const Terminal& terminal) {
    const auto day = day_of(options);
    auto workshop = open_workshop(options.catalog, terminal);
    const auto promised =
        app::promise_things(workshop, day, options.boat, options.client, options.codes);
    if (promised) tell_problems(workshop, day, terminal);
    return status_of(promised, terminal);
}

int need(const Options& options, const Terminal& terminal) {
    const auto day = day_of(options);
    auto workshop = open_workshop(options.catalog, terminal);
    const auto promised = app::promise_class(workshop, day, options.boat, options.client,
                                             options.class_name, options.count);
    if (promised) tell_problems(workshop, day, terminal);
    return status_of(promised, terminal);
}

int drop(const Options& options, const Terminal& terminal) {
    const auto day = day_of(options);
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(app::withdraw_promises(workshop, day, options.boat, options.codes), terminal);
}

int list(const Options& options, const Terminal& terminal) {
    std::optional<Day> day;
    if (!options.day.empty()) day = day_of(options);
    auto workshop = open_workshop(options.catalog, terminal);
    app::write_outings(workshop, day, options.with_names, terminal.out, options.format,
                       terminal.out_width);
    return done;
}

int check(const Options& options, const Terminal& terminal) {
    const auto day = day_of(options);
    auto workshop = open_workshop(options.catalog, terminal);
    const auto problems =
        app::write_problems(workshop, day, terminal.out, options.format, terminal.out_width);
    return problems == 0 ? done : could_not_be_done;
}

int pack(const Options& options, const Terminal& terminal) {
    const auto day = day_of(options);
    const auto paper = value_of("--paper", labels::sheet_from(options.paper)).paper;
    auto workshop = open_workshop(options.catalog, terminal);
    const auto packing = app::packing_list(workshop, day, options.boat, options.with_names);
    if (!packing) return status_of(packing, terminal);
    if (options.out.empty()) {
        app::write_packing_list(*packing, terminal.out, options.format, terminal.out_width);
    } else {
        app::write_file(options.out, labels::packing_pdf(*packing, paper));
        terminal.err << "the packing list is in " << app::on_one_line(options.out) << '\n';
    }
    return done;
}

void add_day(CLI::App& command, const Shared& options) {
    command.add_option("DAY", options->day, "The day, such as 2026-06-14")
        ->type_name("")
        ->required();
}
void add_day_and_boat(CLI::App& command, const Shared& options) {
    add_day(command, options);
    command.add_option("BOAT", options->boat, "The boat's name")->type_name("")->required();
}
void add_client_option(CLI::App& command, const Shared& options) {
    command.add_option("--client", options->client, "The client's code or name")
        ->type_name("CLIENT");
}
void add_codes(CLI::App& command, const Shared& options) {
    command.add_option("CODES", options->codes, "Rigs and coils")->type_name("")->required();
}

}  // namespace

void add_outing(CLI::App& program, const Terminal& terminal, int& status) {
    auto* outing = program.add_subcommand("outing", "Who goes out when, with what");
    outing->require_subcommand(1);
    outing->footer("Example: what is wrong with a day's plan\n  coilbook outing check 2026-06-14");

    auto options = std::make_shared<Options>();
    auto* command = add_below(*outing, "add", "A boat goes out, with a client or without", options,
                              terminal, status, add);
    add_day_and_boat(*command, options);
    add_client_option(*command, options);
    command->footer("Example:\n  coilbook outing add 2026-06-14 Heron --client K7M3XM");

    options = std::make_shared<Options>();
    command = add_below(*outing, "cancel", "A boat stays at home after all", options, terminal,
                        status, cancel);
    add_day_and_boat(*command, options);
    command->footer("Example:\n  coilbook outing cancel 2026-06-14 Heron");

    options = std::make_shared<Options>();
    command = add_below(*outing, "carry", "Promise rigs and spare tips to a boat", options,
                        terminal, status, carry);
    add_day_and_boat(*command, options);
    add_codes(*command, options);
    add_client_option(*command, options);
    command->footer("Example:\n  coilbook outing carry 2026-06-14 Heron R1 A7");

    options = std::make_shared<Options>();
    command = add_below(*outing, "need", "A boat needs so many of a class, whichever they are",
                        options, terminal, status, need);
    add_day_and_boat(*command, options);
    command->add_option("CLASS", options->class_name, "A class, as 'coilbook classes' names it")
        ->type_name("")
        ->required();
    command->add_option("--count", options->count, "How many")
        ->type_name("N")
        ->check(CLI::Range(1, 999))
        ->capture_default_str();
    add_client_option(*command, options);
    command->footer("Example:\n  coilbook outing need 2026-06-14 Heron T-11 --count 2");

    options = std::make_shared<Options>();
    command = add_below(*outing, "drop", "Take back what a boat was promised", options, terminal,
                        status, drop);
    add_day_and_boat(*command, options);
    add_codes(*command, options);
    command->footer("Example:\n  coilbook outing drop 2026-06-14 Heron A7");

    options = std::make_shared<Options>();
    command =
        add_below(*outing, "list", "Outings and what they carry", options, terminal, status, list);
    command->add_option("DAY", options->day, "One day; else all")->type_name("");
    command->add_flag("--with-names", options->with_names, "Clients by name, not by code");
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook outing list 2026-06-14");

    options = std::make_shared<Options>();
    command = add_below(*outing, "check",
                        "What is wrong with a day's plan: promised twice, too few, no fast tip",
                        options, terminal, status, check);
    add_day(*command, options);
    add_format(*command, options->format);
    command->footer(
        "Exit status 1 when something is wrong.\n"
        "Example:\n  coilbook outing check 2026-06-14");

    options = std::make_shared<Options>();
    command = add_below(*outing, "pack", "A boat's packing list; what was handed out is ticked",
                        options, terminal, status, pack);
    add_day_and_boat(*command, options);
    command->add_option("--out", options->out, "Into a PDF instead")->type_name("FILE.pdf");
    command->add_option("--paper", options->paper, "letter or a4")
        ->type_name("PAPER")
        ->capture_default_str();
    command->add_flag("--with-names", options->with_names, "Clients by name, not by code");
    add_format(*command, options->format);
    command->footer(
        "Tick by handing out, a scan a thing: 'coilbook hand out Heron CODE'. Hooks off first.\n"
        "Example:\n  coilbook outing pack 2026-06-14 Heron --out heron.pdf");
}

}  // namespace coilbook::cli
