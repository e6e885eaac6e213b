// coilbook init: a new catalogue, empty or with an invented bin to try things on.
#include <memory>
#include <string>

#include "app/outfit.h"
#include "app/take_in.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    bool has_demo = false;
};

int make_catalogue(const Options& options, const Terminal& terminal) {
    const auto path = catalogue_path_from(options.catalog);
    auto workshop = app::Workshop::create(path, terminal.surroundings);
    terminal.err << "made the catalogue " << app::on_one_line(path.string()) << '\n';
    if (options.has_demo) {
        const auto taken = app::take_in_demo(workshop);
        terminal.err << "took in the invented bin: " << app::counts_in_words(taken) << '\n';
        const auto outfit = app::take_in_demo_outfit(workshop);
        terminal.err << "and " << outfit.boats << " boats and " << outfit.clients
                     << " clients, as invented\n";
    }
    return done;
}

}  // namespace

void add_init(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand("init", "Make a new catalogue");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_flag("--demo", options->has_demo,
                      "With an invented bin of coils, boats and clients to try");
    command->footer(
        "Example: a catalogue to play with\n"
        "  coilbook init --demo --catalog try.coilbook\n"
        "  coilbook coils list --catalog try.coilbook");
    command->callback(
        [options, &terminal, &status] { status = make_catalogue(*options, terminal); });
}

}  // namespace coilbook::cli
