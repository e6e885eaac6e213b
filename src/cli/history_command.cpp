// coilbook history, undo, redo: what was done, and taking it back.
#include <memory>
#include <string>

#include "app/history_rows.h"
#include "app/undo.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string code;
    std::string id;
    std::string why;
    int limit = 1'000'000;
    app::Format format = app::Format::table;
};

int show(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto code = options.code.empty() ? std::nullopt : std::optional(options.code);
    return status_of(app::write_history(workshop, code, options.limit, terminal.out, options.format,
                                        terminal.out_width),
                     terminal);
}

int undo(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto undone = app::undo(workshop, options.id, options.why);
    if (undone) terminal.err << "undone: " << app::on_one_line(undone->note.what) << '\n';
    return status_of(undone, terminal);
}

int redo(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto done_again = app::redo(workshop, options.why);
    if (done_again)
        terminal.err << "done again: " << app::on_one_line(done_again->note.what) << '\n';
    return status_of(done_again, terminal);
}

}  // namespace

void add_history(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command =
        program.add_subcommand("history", "What was done to the catalogue, the last first");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("--coil", options->code, "Only what changed this coil")->type_name("CODE");
    command->add_option("--limit", options->limit, "At most so many entries")
        ->type_name("N")
        ->check(CLI::Range(1, 1'000'000));
    add_format(*command, options->format);
    command->footer(
        "Example: the last ten things done, and all that was done to coil A7\n"
        "  coilbook history --limit 10\n"
        "  coilbook history --coil A7 --format csv");
    command->callback([options, &terminal, &status] { status = show(*options, terminal); });
}

void add_undo(CLI::App& program, const Terminal& terminal, int& status) {
    auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "undo", "Take back the last thing done, or one by its id; the history keeps both");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command
        ->add_option("ID", options->id,
                     "Which, as 'coilbook history' shows it; the beginning will do")
        ->type_name("")
        ->check([](const std::string& id) {
            return std::string(id.empty() ? "an empty id names no act" : "");
        });
    command->add_option("--why", options->why, "The reason, for the history")->type_name("TEXT");
    command->footer(
        "Example: take back the last thing done, then do it again\n"
        "  coilbook undo --why \"wrong coil in hand\"\n"
        "  coilbook redo");
    command->callback([options, &terminal, &status] { status = undo(*options, terminal); });

    options = std::make_shared<Options>();
    command =
        program.add_subcommand("redo", "Do again what was just undone, if nothing came in between");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("--why", options->why, "The reason, for the history")->type_name("TEXT");
    command->footer("Example:\n  coilbook redo");
    command->callback([options, &terminal, &status] { status = redo(*options, terminal); });
}

}  // namespace coilbook::cli
