// coilbook score READINGS.csv TRUTH.csv, or --confirmed: how often the engine is right, and whether
// it knows it.
#include <memory>
#include <string>

#include "app/score_confirmed.h"
#include "app/score_file.h"
#include "cli/commands.h"
#include "cli/readings_options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options : ReadingsOptions {
    std::string truth;
    bool confirmed = false;
};

int score_catalogue(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::write_confirmed_score(app::score_confirmed(workshop), terminal.out, options.format,
                               terminal.out_width);
    return done;
}

int score_all(const Options& options, const Terminal& terminal) {
    if (options.confirmed) {
        if (options.readings.empty()) return score_catalogue(options, terminal);
        throw CLI::ExcludesError("--confirmed", "READINGS.csv");
    }
    if (options.readings.empty()) throw CLI::RequiredError("READINGS.csv");
    if (options.truth.empty()) throw CLI::RequiredError("TRUTH.csv");
    auto request = request_from<app::ScoreRequest>(options, terminal);
    request.truth = options.truth;
    ProgressLine progress(terminal, true);
    const auto reports = reports_on<app::ScoreReports>(terminal, progress);
    return app::score_file(request, terminal.out, reports) ? done : could_not_be_done;
}

}  // namespace

void add_score(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "score", "How often the engine is right about coils whose truth is known, and how honest");
    add_readings_file(*command, *options);
    command->add_option("TRUTH.csv", options->truth, "What the coils are, one row a code")
        ->type_name("");
    command->get_option("READINGS.csv")->required(false);
    command->add_flag("--confirmed", options->confirmed,
                      "Instead of two files, the catalogue's confirmed coils");
    command->footer(
        "TRUTH.csv has code and class, and any of family, grain_class, density_grade, line_size,\n"
        "grains_per_foot, diameter_mm, density_g_cm3, sink_rate_in_s (still fresh water, 10 C),\n"
        "clearly_foreign (yes, no) and best_class, best_grain_class, ...: the best answers that\n"
        "anybody could give. Rows that are refused are told, left out and counted.\n"
        "With --confirmed it is asked about the coils of the catalogue that somebody confirmed, "
        "as\n"
        "if it had learned nothing from them. Who confirms has mostly seen its answer before.\n\n"
        "Example: a bin of which all is known, written by the project's tools/simulate-bin\n"
        "  coilbook score bin/readings.csv bin/truth.csv --instruments bin/instruments.csv\n"
        "  coilbook score --confirmed");
    command->callback([options, &terminal, &status] { status = score_all(*options, terminal); });
}

}  // namespace coilbook::cli
