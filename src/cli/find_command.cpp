// coilbook find: coils by words and figures.
#include <memory>
#include <string>
#include <vector>

#include "app/find.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/progress_line.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::vector<std::string> wanted;
    std::size_t limit = store::SearchQuery{}.limit;
    app::Format format = app::Format::table;
};

int find(const Options& options, const Terminal& terminal) {
    std::string typed;
    for (const auto& word : options.wanted) typed += (typed.empty() ? "" : " ") + word;
    auto query = app::query_from(typed);
    if (!query) return status_of(query, terminal);
    query->limit = options.limit;
    auto workshop = open_workshop(options.catalog, terminal);
    app::Finder finder(workshop);
    {
        ProgressLine progress(terminal, true);
        finder.refresh([&](std::size_t coils) { progress.show(coils, "coils"); });
    }
    app::write_found(finder.find(*query), terminal.out, options.format, terminal.out_width);
    return done;
}

}  // namespace

void add_find(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "find", "Coils that have all these words and figures, however many there are");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command
        ->add_option("WANTED", options->wanted,
                     "Beginnings of words in code, confirmed class, place, looks and notes; ranges "
                     "as 10..12 (gr/ft) or with a unit: g/cm3, mm (diameter), in/s, ft (length)")
        ->type_name("")
        ->required();
    command->add_option("--limit", options->limit, "At most so many rows")
        ->type_name("N")
        ->check(CLI::Range(1, 1'000'000))
        ->capture_default_str();
    add_format(*command, options->format);
    command->footer(
        "Example: dark lines in the drift boat's box of 10 to 12 grains a foot that sink at 6 in/s "
        "or more\n"
        "  coilbook find dark drift 10..12 6.. in/s");
    command->callback([options, &terminal, &status] { status = find(*options, terminal); });
}

}  // namespace coilbook::cli
