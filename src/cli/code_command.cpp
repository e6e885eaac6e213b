// coilbook code: codes for things that are yet to be put into the catalogue.
#include <memory>
#include <string>

#include "app/codes.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    int count = 1;
};

int give_codes(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    for (const auto& code : app::new_codes(workshop, options.count)) terminal.out << code << '\n';
    return done;
}

}  // namespace

void add_code(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand("code", "New codes for labels, one a line");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("--count", options->count, "How many")
        ->type_name("N")
        ->check(CLI::Range(1, 10'000))
        ->capture_default_str();
    command->footer(
        "A given code has six characters, none of which is easily taken for another, and the last\n"
        "one checks the rest. Codes of your own, such as A7, are as good.\n"
        "Example: five codes to write on bags before the coils in them are measured\n"
        "  coilbook code --count 5");
    command->callback([options, &terminal, &status] { status = give_codes(*options, terminal); });
}

}  // namespace coilbook::cli
