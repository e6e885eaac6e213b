// coilbook rig add|change|list|show|put|tip: rods and what is strung on them.
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/rigs.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    app::RigWords words;
    std::string size, rig, code, role = "wallet";
    std::vector<std::string> codes;
    std::optional<std::string> new_code, name, new_size, rod, reel, backing, running_line, notes;
    app::Format format = app::Format::table;
};
using Shared = std::shared_ptr<Options>;

int add(const Options& options, const Terminal& terminal) {
    auto words = options.words;
    if (!options.size.empty()) words.line_size = value_of("--size", line_size_from(options.size));
    auto workshop = open_workshop(options.catalog, terminal);
    const auto added = app::add_rig(workshop, words);
    if (added) terminal.out << added->code << '\n';
    return status_of(added, terminal);
}

int change(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto found = app::rig_called(workshop, options.rig);
    if (!found) return status_of(found, terminal);
    auto rig = *found;
    if (options.new_size) {
        rig.line_size.reset();
        if (!options.new_size->empty()) {
            rig.line_size = value_of("--size", line_size_from(*options.new_size));
        }
    }
    for (const auto& [told, words] : {std::pair{&options.new_code, &rig.code},
                                      {&options.name, &rig.name},
                                      {&options.rod, &rig.rod},
                                      {&options.reel, &rig.reel},
                                      {&options.backing, &rig.backing},
                                      {&options.running_line, &rig.running_line},
                                      {&options.notes, &rig.notes}}) {
        if (*told) *words = **told;
    }
    return status_of(app::change_rig(workshop, rig), terminal);
}

int list(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::write_rigs(workshop, terminal.out, options.format, terminal.out_width);
    return done;
}

int show(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(
        app::write_rig(workshop, options.rig, terminal.out, options.format, terminal.out_width),
        terminal);
}

int put(const Options& options, const Terminal& terminal) {
    const auto role = value_of("--as", rig_role_from(options.role));
    auto workshop = open_workshop(options.catalog, terminal);
    const auto rig = app::rig_called(workshop, options.rig);
    if (!rig) return status_of(rig, terminal);
    return status_of(app::string_rig(workshop, *rig, options.codes, role), terminal);
}

int change_tip(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto rig = app::rig_called(workshop, options.rig);
    if (!rig) return status_of(rig, terminal);
    const auto change = app::change_tip(workshop, *rig, options.code);
    if (!change) return status_of(change, terminal);
    terminal.err << rig->code << ": " << change->on << " is on";
    if (change->off) terminal.err << ", " << *change->off << " is in the wallet";
    terminal.err << '\n';
    return done;
}

void add_rig_name(CLI::App& command, const Shared& options) {
    command.add_option("RIG", options->rig, "The rig's code")->type_name("")->required();
}

}  // namespace

void add_rig(CLI::App& program, const Terminal& terminal, int& status) {
    auto* rig = program.add_subcommand("rig", "Rigs: a rod with what is strung on it");
    rig->require_subcommand(1);
    rig->footer("Example: the next tip of the wallet goes on\n  coilbook rig tip R1");

    auto options = std::make_shared<Options>();
    auto* command = add_below(*rig, "add", "Put a new rig into the catalogue; its code is printed",
                              options, terminal, status, add);
    auto& words = options->words;
    command->add_option("NAME", words.name, "What you call it")->type_name("")->required();
    command->add_option("--code", words.code, "A code of your own; else one is given")
        ->type_name("CODE");
    command->add_option("--size", options->size, "The line size that the rod casts")
        ->type_name("N");
    command->add_option("--rod", words.rod, "The rod")->type_name("TEXT");
    command->add_option("--reel", words.reel, "The reel")->type_name("TEXT");
    command->add_option("--backing", words.backing, "The backing")->type_name("TEXT");
    command->add_option("--running-line", words.running_line, "The running line")
        ->type_name("TEXT");
    command->add_option("--notes", words.notes, "Whatever should be remembered of it")
        ->type_name("TEXT");
    command->footer(
        "Example:\n  coilbook rig add \"blue two-hander\" --code R1 --size 8 --rod \"13 ft\"");

    options = std::make_shared<Options>();
    command = add_below(*rig, "change", "Tell anew what a rig is; what is not named stays", options,
                        terminal, status, change);
    add_rig_name(*command, options);
    command->add_option("--code", options->new_code, "Another code")->type_name("CODE");
    command->add_option("--name", options->name, "What you call it")->type_name("TEXT");
    command->add_option("--size", options->new_size, "The line size; '' for none")->type_name("N");
    command->add_option("--rod", options->rod, "The rod")->type_name("TEXT");
    command->add_option("--reel", options->reel, "The reel")->type_name("TEXT");
    command->add_option("--backing", options->backing, "The backing")->type_name("TEXT");
    command->add_option("--running-line", options->running_line, "The running line")
        ->type_name("TEXT");
    command->add_option("--notes", options->notes, "Whatever should be remembered of it")
        ->type_name("TEXT");
    command->footer(
        "'coilbook hand retired RIG' retires it, once nothing is in it.\n"
        "Example:\n  coilbook rig change R1 --reel \"the large one\"");

    options = std::make_shared<Options>();
    command = add_below(*rig, "list", "All rigs, with the tip that is on and where they are",
                        options, terminal, status, list);
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook rig list");

    options = std::make_shared<Options>();
    command =
        add_below(*rig, "show", "One rig, from the reel outwards", options, terminal, status, show);
    add_rig_name(*command, options);
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook rig show R1");

    options = std::make_shared<Options>();
    command = add_below(*rig, "put", "String coils on a rig, or lay them into its wallet", options,
                        terminal, status, put);
    add_rig_name(*command, options);
    command->add_option("CODES", options->codes, "The coils")->type_name("")->required();
    command->add_option("--as", options->role, "head, tip, leader or wallet")
        ->type_name("PART")
        ->capture_default_str();
    command->footer(
        "What is in a rig goes where the rig goes; 'coilbook hand back CODE' takes it out.\n"
        "Example: a head, a tip, and two spare tips\n"
        "  coilbook rig put R1 H3 --as head\n"
        "  coilbook rig put R1 A7 --as tip\n"
        "  coilbook rig put R1 B2 C11");

    options = std::make_shared<Options>();
    command = add_below(*rig, "tip", "Change the tip: the next of the wallet, or the one named",
                        options, terminal, status, change_tip);
    add_rig_name(*command, options);
    command->add_option("CODE", options->code, "A tip of its wallet; else the next denser one")
        ->type_name("");
    command->footer("Example:\n  coilbook rig tip R1");
}

}  // namespace coilbook::cli
