// coilbook identify READINGS.csv: what each coil of a readings file is.
#include <memory>

#include "app/identify_file.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/readings_options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options : ReadingsOptions {
    WaterOptions water;
    bool is_strict = false;
};

int identify_all(const Options& options, const Terminal& terminal) {
    auto request = request_from<app::IdentifyRequest>(options, terminal);
    request.fished_in = water_from(options.water);
    request.stops_at_first_problem = options.is_strict;
    // Rows of CSV and JSON that run over the same terminal are progress enough.
    const bool rows_are_seen = terminal.out_width > 0 && options.format != app::Format::table;
    ProgressLine progress(terminal, !rows_are_seen);
    const auto reports = reports_on<app::IdentifyReports>(terminal, progress);
    return app::identify_file(request, terminal.out, reports) ? done : could_not_be_done;
}

}  // namespace

void add_identify(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "identify", "What each coil of a readings file is, how sure, and what to measure next");
    add_readings_file(*command, *options);
    add_water(*command, options->water);
    command->add_flag("--strict", options->is_strict, "Stop at the first row with a problem");
    command->footer(
        "Only the column `code` is required; others are sample_length, sample_weight, diameters,\n"
        "submerged_weight, sink_distance, sink_time, water_temperature, tint, taper,\n"
        "whole_length, whole_weight, floats, scale, tape, micrometer, notes. A head may name the\n"
        "unit of its column: sample_weight [gr].\n"
        "Uncertainties are one standard deviation (k = 1).\n\n"
        "Example: verdicts for a script, sink rates in a river at 45 °F\n"
        "  coilbook identify bin.csv --temperature \"45 F\" --format csv > verdicts.csv");
    command->callback([options, &terminal, &status] { status = identify_all(*options, terminal); });
}

}  // namespace coilbook::cli
