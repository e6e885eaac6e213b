// coilbook readings add|withdraw|take-in: what was read off the coils.
#include <memory>
#include <string>

#include "app/coil_changes.h"
#include "app/coil_sheet.h"
#include "app/take_in.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string code;
    std::string field;
    std::string text;
    std::string instrument;
    std::string file;
};

int add(const Options& options, const Terminal& terminal) {
    const auto field = value_of("FIELD", reading_field_from(options.field));
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    const auto added =
        app::record_reading(workshop, *coil, field, options.text, {}, options.instrument);
    if (!added) return status_of(added, terminal);
    terminal.err << options.code << ": " << options.field << ' ' << app::on_one_line(options.text)
                 << '\n';
    if (const auto doubt = app::unit_doubt(workshop, *coil); !doubt.empty()) {
        terminal.err << "note: " << doubt << '\n';
    }
    return done;
}

int withdraw(const Options& options, const Terminal& terminal) {
    const auto field = value_of("FIELD", reading_field_from(options.field));
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    return status_of(app::withdraw_reading(workshop, *coil, field), terminal);
}

int take_in(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto taken = app::take_in_file(workshop, options.file);
    if (!taken) {
        for (const auto& problem : taken.error()) tell(terminal, problem);
        terminal.err << "Nothing was taken in.\n";
        return could_not_be_done;
    }
    for (const auto& warning : taken->warnings) {
        terminal.err << "note: ";
        tell(terminal, warning);
    }
    terminal.err << "took in " << app::counts_in_words(*taken) << '\n';
    return done;
}

}  // namespace

void add_readings(CLI::App& program, const Terminal& terminal, int& status) {
    auto* readings = program.add_subcommand("readings", "What was read off the coils");
    readings->require_subcommand(1);
    readings->footer("Example:\n  coilbook readings add A7 sample_weight \"22.4 gr\"");

    auto options = std::make_shared<Options>();
    auto* command = readings->add_subcommand(
        "add",
        "Record a reading; it takes the place of an earlier one in its field, but diameters "
        "add up");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    command
        ->add_option("FIELD", options->field,
                     "What was read: sample_length, sample_weight, diameters, submerged_weight, "
                     "sink_distance, sink_time, water_temperature, tint, taper, whole_length, "
                     "whole_weight or floats")
        ->type_name("")
        ->required();
    command->add_option("TEXT", options->text, "The reading with its unit, as you would write it")
        ->type_name("")
        ->required();
    command->add_option("--instrument", options->instrument, "The code of what it was read with")
        ->type_name("CODE");
    command->footer(
        "Example: a piece of 24 in that weighs 22.4 gr, and three diameters\n"
        "  coilbook readings add A7 sample_length \"24 in\"\n"
        "  coilbook readings add A7 sample_weight \"22.4 gr\"\n"
        "  coilbook readings add A7 diameters \"0.83 0.84 0.83 mm\"");
    command->callback([options, &terminal, &status] { status = add(*options, terminal); });

    options = std::make_shared<Options>();
    command = readings->add_subcommand(
        "withdraw", "Take back the last reading in a field; it stays in the coil's history");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    command->add_option("FIELD", options->field, "What was read, as for 'readings add'")
        ->type_name("")
        ->required();
    command->footer("Example:\n  coilbook readings withdraw A7 diameters");
    command->callback([options, &terminal, &status] { status = withdraw(*options, terminal); });

    options = std::make_shared<Options>();
    command = readings->add_subcommand(
        "take-in", "Put the coils of a readings file into the catalogue, all or none");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("READINGS.csv", options->file, "The readings, one row a coil")
        ->type_name("")
        ->required();
    command->footer("Example:\n  coilbook readings take-in bin.csv");
    command->callback([options, &terminal, &status] { status = take_in(*options, terminal); });
}

}  // namespace coilbook::cli
