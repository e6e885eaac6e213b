#include "cli/run.h"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <exception>
#include <string>
#include <vector>

#include "app/surroundings.h"
#include "app/text_width.h"
#include "base/text.h"
#include "cli/commands.h"

namespace coilbook::cli {
namespace {

// The names of the commands below `command`, "list, show and add".
std::string commands_of(const CLI::App& command) {
    std::vector<std::string> names;
    for (const auto* below : command.get_subcommands(nullptr)) names.push_back(below->get_name());
    return listed(names);
}

// The arguments after the program's name, the other way round, as CLI11 takes them. A --catalog
// before the command is put behind it, where commands have theirs. Throws CLI::ParseError for a
// command that there is not.
std::vector<std::string> arguments_of(const CLI::App& program, int argc, const char* const* argv) {
    std::vector<std::string> given(argv + 1, argv + argc);
    std::vector<std::string> catalog;
    std::size_t at = 0;
    if (!given.empty() && given[0] == "--catalog" && given.size() > 1) {
        catalog = {given[0], given[1]};
        at = 2;
    } else if (!given.empty() && given[0].starts_with("--catalog=")) {
        catalog = {given[0]};
        at = 1;
    }
    std::vector<std::string> arguments;
    const CLI::App* command = &program;
    while (command->get_require_subcommand_min() > 0 && at < given.size() &&
           !given[at].starts_with("-")) {
        const CLI::App* below = nullptr;
        for (const auto* each : command->get_subcommands(nullptr)) {
            if (each->get_name() == given[at]) below = each;
        }
        if (below == nullptr) {
            throw CLI::ParseError(fmt::format("there is no command {} of {}; expected one of {}",
                                              coilbook::quoted(given[at]), command->get_name(),
                                              commands_of(*command)),
                                  wrong_usage);
        }
        command = below;
        arguments.push_back(given[at++]);
    }
    arguments.insert(arguments.end(), catalog.begin(), catalog.end());
    arguments.insert(arguments.end(), given.begin() + static_cast<std::ptrdiff_t>(at), given.end());
    std::ranges::reverse(arguments);
    return arguments;
}

int parse_and_run(CLI::App& program, int argc, const char* const* argv, const Terminal& terminal,
                  const int& status) {
    try {
        program.parse(arguments_of(program, argc, argv));
    } catch (const CLI::ParseError& error) {
        // Help and version are results; anything else is wrong usage.
        const bool is_result = error.get_exit_code() == done;
        program.exit(error, terminal.out, terminal.err);
        if (!is_result) return wrong_usage;
    }
    terminal.out.flush();
    if (!terminal.out) {
        terminal.err << "writing the results: the output cannot be written\n";
        return could_not_be_done;
    }
    return status;
}

}  // namespace

int run(int argc, const char* const* argv, const Terminal& terminal) {
    int status = done;
    try {
        CLI::App program("Finds out what a coil of sinking line is, and keeps it.", "coilbook");
        program.set_version_flag("--version", "coilbook " + std::string(app::version()));
        program.require_subcommand(1);
        program.failure_message(CLI::FailureMessage::simple);
        program.footer(
            "Example: what the coils of a readings file are\n"
            "  coilbook identify bin.csv\n\n"
            "Exit status: 0 done; 1 could not be done, with the reason on standard error; 2 wrong "
            "usage.\n"
            "coilbook COMMAND --help tells more about a command.");
        add_init(program, terminal, status);
        add_coils(program, terminal, status);
        add_find(program, terminal, status);
        add_code(program, terminal, status);
        add_label(program, terminal, status);
        add_readings(program, terminal, status);
        add_rig(program, terminal, status);
        add_boat(program, terminal, status);
        add_client(program, terminal, status);
        add_forget(program, terminal, status);
        add_outing(program, terminal, status);
        add_hand(program, terminal, status);
        add_where(program, terminal, status);
        add_stock(program, terminal, status);
        add_history(program, terminal, status);
        add_undo(program, terminal, status);
        add_care(program, terminal, status);
        add_merge(program, terminal, status);
        add_exchange(program, terminal, status);
        add_conflicts(program, terminal, status);
        add_tables(program, terminal, status);
        add_identify(program, terminal, status);
        add_groups(program, terminal, status);
        add_classes(program, terminal, status);
        add_score(program, terminal, status);
        add_instruments(program, terminal, status);
        add_sink(program, terminal, status);
        return parse_and_run(program, argc, argv, terminal, status);
    } catch (const std::exception& error) {
        terminal.err << app::on_one_line(error.what()) << '\n';
        return could_not_be_done;
    }
}

}  // namespace coilbook::cli
