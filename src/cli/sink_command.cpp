// coilbook sink --grains-per-foot G --diameter D: how fast such a line sinks in still water.
#include <memory>
#include <string>

#include "app/sink_line.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"
#include "quantity/parse.h"
#include "quantity/units.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string grains_per_foot;
    std::string diameter;
    WaterOptions water;
    app::Format format = app::Format::table;
};

// `value` if it is above zero and at most `most`.
template <class Q>
Q within(const char* option, Q value, Q most, const char* expected) {
    if (value > Q{} && value <= most) return value;
    throw CLI::ValidationError(option, std::string("no line is like that; expected ") + expected);
}

LineBody line_from(const Options& options) {
    const auto weight = value_of("--grains-per-foot",
                                 parse_linear_density(options.grains_per_foot, {'.', "gr/ft"}));
    const auto diameter = value_of("--diameter", parse_length(options.diameter));
    return {within("--grains-per-foot", weight.value, 10'000.0 * grain_per_foot,
                   "a number above zero, up to 10000"),
            within("--diameter", diameter.value, 25.0 * millimetre,
                   "a diameter above zero, up to 25 mm")};
}

int sink_one(const Options& options, const Terminal& terminal) {
    const auto line = line_from(options);
    const auto water = water_from(options.water);
    const bool is_for_people = options.format == app::Format::table;
    app::RowWriter writer(terminal.out,
                          is_for_people ? app::sink_summary_columns() : app::sink_columns(),
                          options.format, terminal.out_width);
    writer.add(is_for_people ? app::sink_summary_cells(line, water) : app::sink_cells(line, water));
    writer.finish(
        "± is one standard deviation (k = 1), of the drag law alone: weight and diameter are "
        "taken\n"
        "as given.");
    return done;
}

}  // namespace

void add_sink(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "sink", "How fast a level piece of line sinks in still water; negative: it rises");
    command->add_option("--grains-per-foot", options->grains_per_foot, "Its weight per foot")
        ->type_name("G")
        ->required();
    command->add_option("--diameter", options->diameter, "Its diameter with a unit")
        ->type_name("D")
        ->required();
    add_water(*command, options->water);
    add_format(*command, options->format);
    command->footer(
        "Example: a T-11 of 0.835 mm in a river at 50 °F\n"
        "  coilbook sink --grains-per-foot 11 --diameter \"0.835 mm\" --temperature \"50 F\"");
    command->callback([options, &terminal, &status] { status = sink_one(*options, terminal); });
}

}  // namespace coilbook::cli
