// coilbook identify READINGS.csv: what each coil of a readings file is.
#include <memory>
#include <string>

#include "app/built_in_library.h"
#include "app/identify_file.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/progress_line.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string readings;
    std::string catalog;
    std::string instruments;
    WaterOptions water;
    app::Format format = app::Format::table;
    bool is_strict = false;
};

int identify_all(const Options& options, const Terminal& terminal) {
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
    request.fished_in = water_from(options.water);
    request.format = options.format;
    request.terminal_width = terminal.out_width;
    request.stops_at_first_problem = options.is_strict;

    // Rows of CSV and JSON that run over the same terminal are progress enough.
    const bool rows_are_seen = terminal.out_width > 0 && options.format != app::Format::table;
    ProgressLine progress(terminal, !rows_are_seen);
    app::IdentifyReports reports;
    reports.problem = [&](const Problem& problem) {
        progress.hide();
        tell(terminal, problem);
    };
    reports.warning = [&](const Problem& problem) {
        terminal.err << "note: ";
        tell(terminal, problem);
    };
    reports.progress = [&](std::size_t coils_done) { progress.show(coils_done, "coils"); };
    reports.coils_are_done = [&] { progress.hide(); };
    return app::identify_file(request, terminal.out, reports) ? done : could_not_be_done;
}

}  // namespace

void add_identify(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "identify", "What each coil of a readings file is, how sure, and what to measure next");
    command->add_option("READINGS.csv", options->readings, "The readings, one row a coil")
        ->type_name("")
        ->required();
    add_catalog(*command, options->catalog,
                " whose classes and instruments count; else the built-in ones");
    command
        ->add_option("--instruments", options->instruments,
                     "What is known about the scale, tape, micrometer and clocks")
        ->type_name("FILE");
    add_water(*command, options->water);
    add_format(*command, options->format);
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
