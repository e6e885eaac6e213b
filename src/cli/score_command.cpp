// coilbook score READINGS.csv TRUTH.csv: how often the engine is right, and whether it knows it.
#include <memory>
#include <string>

#include "app/built_in_library.h"
#include "app/score_file.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/progress_line.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string readings;
    std::string truth;
    std::string catalog;
    std::string instruments;
    app::Format format = app::Format::table;
};

int score_all(const Options& options, const Terminal& terminal) {
    app::ScoreRequest request;
    request.readings = options.readings;
    request.truth = options.truth;
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

    ProgressLine progress(terminal, true);
    app::ScoreReports reports;
    reports.problem = [&](const Problem& problem) {
        progress.hide();
        tell(terminal, problem);
    };
    reports.progress = [&](std::size_t coils_done) { progress.show(coils_done, "coils"); };
    reports.coils_are_done = [&] { progress.hide(); };
    return app::score_file(request, terminal.out, reports) ? done : could_not_be_done;
}

}  // namespace

void add_score(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "score", "How often the engine is right about coils whose truth is known, and how honest");
    command->add_option("READINGS.csv", options->readings, "The readings, as for identify")
        ->type_name("")
        ->required();
    command->add_option("TRUTH.csv", options->truth, "What the coils are, one row a code")
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
        "TRUTH.csv has code and class, and any of family, grain_class, density_grade, line_size,\n"
        "grains_per_foot, diameter_mm, density_g_cm3, sink_rate_in_s (still fresh water, 10 C),\n"
        "clearly_foreign (yes, no) and best_class, best_grain_class, ...: the best answers that\n"
        "anybody could give. Rows that are refused are told, left out and counted.\n\n"
        "Example: a bin of which all is known, written by the project's tools/simulate-bin\n"
        "  coilbook score bin/readings.csv bin/truth.csv --instruments bin/instruments.csv");
    command->callback([options, &terminal, &status] { status = score_all(*options, terminal); });
}

}  // namespace coilbook::cli
