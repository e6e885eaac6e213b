// coilbook classes: the reference classes as the engine uses them.
#include <memory>

#include "app/built_in_library.h"
#include "app/class_rows.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {

void add_classes(CLI::App& program, const Terminal& terminal, int& status) {
    const auto format = std::make_shared<app::Format>(app::Format::table);
    auto* command = program.add_subcommand(
        "classes", "The kinds of line that a coil may turn out to be, with their figures");
    add_format(*command, *format);
    command->footer(
        "Example: what the engine believes about weight and density, for a script\n"
        "  coilbook classes --format csv");
    command->callback([format, &terminal, &status] {
        app::write_classes(app::built_in_library(), terminal.out, *format, terminal.out_width);
        status = done;
    });
}

}  // namespace coilbook::cli
