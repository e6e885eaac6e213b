// coilbook instruments list|take-in|check|coatings|study: how far each may be off.
#include <fstream>
#include <memory>
#include <string>

#include "app/instrument_changes.h"
#include "app/instrument_check.h"
#include "app/instrument_coatings.h"
#include "app/instruments.h"
#include "app/reading_study.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string file;
    std::string code;
    app::Format format = app::Format::table;
};

int status_of_all(const app::Done& result, const Terminal& terminal) {
    if (result) return done;
    for (const auto& problem : result.error()) tell(terminal, problem);
    return could_not_be_done;
}

// The file, or nothing after saying that it cannot be read.
std::ifstream opened(const Options& options, const Terminal& terminal) {
    std::ifstream file(options.file, std::ios::binary);
    if (!file) tell(terminal, {options.file, "the file cannot be read", "a CSV file"});
    return file;
}

int list(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::list_instruments(workshop, terminal.out, options.format, terminal.out_width);
    return done;
}

int take_in(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of_all(app::take_in_instruments(workshop, options.file), terminal);
}

int check(const Options& options, const Terminal& terminal) {
    auto file = opened(options, terminal);
    if (!file) return could_not_be_done;
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of_all(app::check_instruments(workshop, file, options.file, terminal.out,
                                                options.format, terminal.out_width),
                         terminal);
}

int coatings(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto found = app::check_on_coatings(workshop, options.code);
    if (found) terminal.out << *found << '\n';
    return status_of(found, terminal);
}

int study(const Options& options, const Terminal& terminal) {
    auto file = opened(options, terminal);
    if (!file) return could_not_be_done;
    return status_of_all(
        app::study_readings(file, options.file, terminal.out, options.format, terminal.out_width),
        terminal);
}

}  // namespace

void add_instruments(CLI::App& program, const Terminal& terminal, int& status) {
    auto* instruments = program.add_subcommand(
        "instruments", "The scale, tape, micrometer and clocks: how far each may be off");
    instruments->require_subcommand(1);
    instruments->footer("Example:\n  coilbook instruments list");
    const auto add = [&](const char* name, const char* what,
                         int (*act)(const Options&, const Terminal&)) {
        const auto options = std::make_shared<Options>();
        auto* command = instruments->add_subcommand(name, what);
        command->callback([=, &terminal, &status] { status = act(*options, terminal); });
        return std::pair{command, options};
    };

    auto [command, options] =
        add("list", "What is known of each, and which must be checked again", list);
    add_catalog(*command, options->catalog, or_default_catalogue);
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook instruments list");

    std::tie(command, options) =
        add("take-in", "Put the instruments of a file into the catalogue", take_in);
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("INSTRUMENTS.csv", options->file, "What is known of each")
        ->type_name("")
        ->required();
    command->footer(
        "Columns: code, kind, resolution, limit_of_error, repeatability, offset, offset_u.\n\n"
        "Example:\n  coilbook instruments take-in shop.csv");

    std::tie(command, options) =
        add("check",
            "Check instruments against known weights, pins or blocks, and put their readings right",
            check);
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("CHECKS.csv", options->file, "What was read, one row a reading")
        ->type_name("")
        ->required();
    add_format(*command, options->format);
    command->footer(
        "Columns: instrument, standard, standard_u, reading, and kind where a length may be a\n"
        "tape's or a micrometer's. standard_u is one standard deviation (k = 1). Read each\n"
        "standard several times, as it comes, without correcting anything. What is found is kept "
        "in\n"
        "the catalogue, and readings are put right by it from then on; 'coilbook undo' takes that\n"
        "back.\n\n"
        "Example: two check weights on scale S2\n"
        "  instrument,standard [gr],standard_u [gr],reading [gr]\n"
        "  S2,100,0.01,100.2\n"
        "  S2,100,0.01,100.3\n"
        "  S2,300,0.02,300.2\n"
        "  coilbook instruments check weights.csv");

    std::tie(command, options) = add(
        "coatings", "Find what a micrometer shows on soft coatings, from coils weighed under water",
        coatings);
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("CODE", options->code, "The micrometer; else the one that has no code")
        ->type_name("");
    command->footer("Example:\n  coilbook instruments coatings M1");

    std::tie(command, options) =
        add("study", "Whether readings by several people can tell coils apart", study);
    command->add_option("STUDY.csv", options->file, "What was read, one row a reading")
        ->type_name("")
        ->required();
    add_format(*command, options->format);
    command->footer(
        "Columns: coil, person, reading. Each person reads each coil equally often, at least\n"
        "twice, in any order, without seeing what the others read. Ten coils, three people and\n"
        "three readings are usual.\n\n"
        "Example:\n  coilbook instruments study micrometer.csv");
}

}  // namespace coilbook::cli
