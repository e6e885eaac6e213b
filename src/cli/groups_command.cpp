// coilbook groups READINGS.csv: which coils are one line, listed or not.
#include <memory>

#include "app/groups.h"
#include "cli/commands.h"
#include "cli/readings_options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

int group_all(const ReadingsOptions& options, const Terminal& terminal) {
    const auto request = request_from<app::IdentifyRequest>(options, terminal);
    ProgressLine progress(terminal, true);
    const auto reports = reports_on<app::IdentifyReports>(terminal, progress);
    return app::group_file(request, terminal.out, reports) ? done : could_not_be_done;
}

}  // namespace

void add_groups(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<ReadingsOptions>();
    auto* command = program.add_subcommand(
        "groups", "Which coils of a readings file are one line, known by name or not");
    add_readings_file(*command, *options);
    command->footer(
        "A line that no class knows can be made one with 'coilbook coils make-class'.\n\n"
        "Example:\n  coilbook groups bin.csv");
    command->callback([options, &terminal, &status] { status = group_all(*options, terminal); });
}

}  // namespace coilbook::cli
