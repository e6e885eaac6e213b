#include "cli/run.h"

#include <CLI/CLI.hpp>
#include <exception>
#include <string>

#include "app/surroundings.h"
#include "app/text_width.h"
#include "cli/commands.h"

namespace coilbook::cli {
namespace {

int parse_and_run(CLI::App& program, int argc, const char* const* argv, const Terminal& terminal,
                  const int& status) {
    try {
        program.parse(argc, argv);
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
        add_readings(program, terminal, status);
        add_history(program, terminal, status);
        add_undo(program, terminal, status);
        add_care(program, terminal, status);
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
