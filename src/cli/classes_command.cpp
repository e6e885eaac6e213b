// coilbook classes: the reference classes as the engine uses them.
#include <memory>
#include <string>

#include "app/built_in_library.h"
#include "app/class_rows.h"
#include "app/learning.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {

namespace {

struct Options {
    std::string catalog;
    app::Format format = app::Format::table;
};

int list_classes(const Options& options, const Terminal& terminal) {
    const auto classes = options.catalog.empty()
                             ? app::listings_of(app::built_in_library())
                             : app::listings_of(open_workshop(options.catalog, terminal).learned());
    app::write_classes(classes, terminal.out, options.format, terminal.out_width);
    return done;
}

}  // namespace

void add_classes(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "classes", "The kinds of line that a coil may turn out to be, with their figures");
    add_catalog(*command, options->catalog, " that has them; else the built-in ones");
    add_format(*command, options->format);
    command->footer(
        "Example: what the engine believes about weight and density, for a script\n"
        "  coilbook classes --format csv");
    command->callback([options, &terminal, &status] { status = list_classes(*options, terminal); });
}

}  // namespace coilbook::cli
