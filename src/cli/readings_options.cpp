#include "cli/readings_options.h"

namespace coilbook::cli {

void add_readings_file(CLI::App& command, ReadingsOptions& options) {
    command.add_option("READINGS.csv", options.readings, "The readings, one row a coil")
        ->type_name("")
        ->required();
    add_catalog(command, options.catalog,
                " whose classes and instruments count; else the built-in ones");
    command
        .add_option("--instruments", options.instruments,
                    "What is known about the scale, tape, micrometer and clocks")
        ->type_name("FILE");
    add_format(command, options.format);
}

}  // namespace coilbook::cli
