// coilbook groups READINGS.csv: which coils are one line, listed or not.
#include <memory>
#include <string>

#include "app/built_in_library.h"
#include "app/groups.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string readings;
    std::string catalog;
    std::string instruments;
    app::Format format = app::Format::table;
};

int group_all(const Options& options, const Terminal& terminal) {
    app::IdentifyRequest request;
    request.readings = options.readings;
    request.instruments_file = options.instruments;
    if (options.catalog.empty()) {
        request.library = app::built_in_library();
    } else {
        const auto workshop = open_workshop(options.catalog, terminal);
        request.library = workshop.library();
        request.instruments = workshop.instruments();
    }
    request.format = options.format;
    request.terminal_width = terminal.out_width;
    app::IdentifyReports reports;
    reports.problem = [&](const Problem& problem) { tell(terminal, problem); };
    reports.warning = [&](const Problem& problem) {
        terminal.err << "note: ";
        tell(terminal, problem);
    };
    return app::group_file(request, terminal.out, reports) ? done : could_not_be_done;
}

}  // namespace

void add_groups(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "groups", "Which coils of a readings file are one line, known by name or not");
    command->add_option("READINGS.csv", options->readings, "The readings, as for 'identify'")
        ->type_name("")
        ->required();
    add_catalog(*command, options->catalog,
                " whose classes and instruments count; else the built-in ones");
    command
        ->add_option("--instruments", options->instruments,
                     "What is known about the scale, tape, micrometer and clocks")
        ->type_name("FILE");
    add_format(*command, options->format);
    command->footer(
        "A line that no class knows can be made one with 'coilbook coils make-class'.\n\n"
        "Example:\n  coilbook groups bin.csv");
    command->callback([options, &terminal, &status] { status = group_all(*options, terminal); });
}

}  // namespace coilbook::cli
