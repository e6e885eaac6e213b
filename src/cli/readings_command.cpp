// coilbook readings add CODE FIELD TEXT: what was read off a coil.
#include <memory>
#include <string>

#include "app/coil_changes.h"
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
};

int add(const Options& options, const Terminal& terminal) {
    const auto field = value_of("FIELD", reading_field_from(options.field));
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    const auto added =
        app::record_reading(workshop, *coil, field, options.text, {}, options.instrument);
    return status_of(added, terminal);
}

}  // namespace

void add_readings(CLI::App& program, const Terminal& terminal, int& status) {
    auto* readings = program.add_subcommand("readings", "What was read off the coils");
    readings->require_subcommand(1);
    readings->footer("Example:\n  coilbook readings add A7 sample_weight \"22.4 gr\"");

    const auto options = std::make_shared<Options>();
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
}

}  // namespace coilbook::cli
