// coilbook classes, and below it change|add|split|join: the reference classes as the engine uses
// them.
#include <memory>
#include <optional>
#include <string>

#include "app/built_in_library.h"
#include "app/class_changes.h"
#include "app/class_rows.h"
#include "app/learning.h"
#include "base/text.h"
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

struct ChangeOptions {
    std::string catalog;
    std::string name, other;
    // What was given of a class; what was not stays.
    std::optional<std::string> new_name, family, grain_class, density_grade, line_size,
        grains_per_foot, grains_per_foot_spread, density, density_spread, weight;
    std::optional<double> at_weight, at_density;
    std::optional<std::string> low, high;
    bool is_dry_run = false;
};

void put_given(app::ClassWords& words, const ChangeOptions& given) {
    const auto put = [](std::string& word, const std::optional<std::string>& said) {
        if (said) word = *said;
    };
    put(words.name, given.new_name);
    put(words.family, given.family);
    put(words.grain_class, given.grain_class);
    put(words.density_grade, given.density_grade);
    put(words.line_size, given.line_size);
    put(words.grains_per_foot, given.grains_per_foot);
    put(words.grains_per_foot_spread, given.grains_per_foot_spread);
    put(words.density, given.density);
    put(words.density_spread, given.density_spread);
    put(words.weight, given.weight);
}

int change(const ChangeOptions& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    auto words = app::words_of_class(workshop, options.name);
    if (!words) return status_of(words, terminal);
    put_given(*words, options);
    return status_of(app::change_class(workshop, options.name, *words), terminal);
}

int add(const ChangeOptions& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::ClassWords words;
    words.name = options.name;
    words.grains_per_foot_spread = "4";
    words.density_spread = "8";
    words.weight = "1";
    put_given(words, options);
    return status_of(app::add_class(workshop, words), terminal);
}

int split(const ChangeOptions& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    std::optional<app::Cut> cut;
    if (options.at_weight) cut = app::Cut{app::CutBy::weight, *options.at_weight};
    if (options.at_density) cut = app::Cut{app::CutBy::density, *options.at_density};
    if (!cut) {
        const auto found = app::planned_split(workshop, options.name, {}, "low", "high");
        if (!found) return status_of(found, terminal);
        cut = found->cut;
    }
    const auto names = app::half_names(options.name, cut->by);
    const auto planned =
        app::planned_split(workshop, options.name, cut, options.low.value_or(names.low),
                           options.high.value_or(names.high));
    if (!planned) return status_of(planned, terminal);
    for (const auto* half : {&planned->low, &planned->high}) {
        terminal.err << half->made.name << ": " << listed(half->codes) << '\n';
    }
    if (!planned->untold.empty()) {
        terminal.err << "confirmed no more: " << listed(planned->untold) << '\n';
    }
    if (options.is_dry_run) return done;
    return status_of(app::split_class(workshop, options.name, *planned), terminal);
}

int join(const ChangeOptions& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(app::join_classes(workshop, options.name, options.other), terminal);
}

void add_figures(CLI::App& command, ChangeOptions& options) {
    const auto add_text = [&](const char* name, std::optional<std::string>& into, const char* says,
                              const char* type) {
        command.add_option(name, into, says)->type_name(type);
    };
    add_text("--family", options.family, "level line, matched tip or sinking leader", "FAMILY");
    add_text("--grain-class", options.grain_class, "Such as T-11", "CLASS");
    add_text("--density-grade", options.density_grade, "Such as intermediate or type 6", "GRADE");
    add_text("--line-size", options.line_size, "1 to 15", "SIZE");
    add_text("--grains-per-foot", options.grains_per_foot, "Its median", "NUMBER");
    add_text("--grains-per-foot-spread", options.grains_per_foot_spread,
             "One standard deviation, in per cent", "NUMBER");
    add_text("--density", options.density, "Its median, in g/cm3", "NUMBER");
    add_text("--density-spread", options.density_spread, "One standard deviation, in per cent",
             "NUMBER");
    add_text("--weight", options.weight, "How common it is beside the others", "NUMBER");
}

void add_changes(CLI::App& classes, const Terminal& terminal, int& status) {
    auto options = std::make_shared<ChangeOptions>();
    auto* command = add_below(classes, "change", "Change a class of the catalogue", options,
                              terminal, status, change);
    command->add_option("NAME", options->name, "The class")->type_name("")->required();
    command->add_option("--name", options->new_name, "What to call it from now on")
        ->type_name("NAME");
    add_figures(*command, *options);
    command->footer("Example:\n  coilbook classes change T-11 --density 4.3 --density-spread 5");

    options = std::make_shared<ChangeOptions>();
    command =
        add_below(classes, "add", "Add a class to the catalogue", options, terminal, status, add);
    command->add_option("NAME", options->name, "What to call it")->type_name("")->required();
    add_figures(*command, *options);
    command->get_option("--grains-per-foot")->required();
    command->get_option("--density")->required();
    command->footer(
        "Without its spreads 4 % in weight and 8 % in density are taken. 'coilbook coils "
        "make-class'\nmakes one from coils that were measured.\n\n"
        "Example:\n"
        "  coilbook classes add \"green box line\" --grains-per-foot 12.5 --density 3.9");

    options = std::make_shared<ChangeOptions>();
    command = add_below(classes, "split", "Make two classes of one, by its confirmed coils",
                        options, terminal, status, split);
    command->add_option("NAME", options->name, "The class")->type_name("")->required();
    auto* weight =
        command->add_option("--at-weight", options->at_weight, "Lighter ones are one class, gr/ft");
    weight->type_name("NUMBER");
    command->add_option("--at-density", options->at_density, "Less dense ones are one class, g/cm3")
        ->type_name("NUMBER")
        ->excludes(weight);
    command->add_option("--low", options->low, "What to call the lighter or less dense one")
        ->type_name("NAME");
    command->add_option("--high", options->high, "What to call the other")->type_name("NAME");
    command->add_flag("--dry-run", options->is_dry_run, "Only say which coils would be which");
    command->footer(
        "Without a value it is split at the widest gap between its coils. Coils whose readings do "
        "not\ntell are confirmed no more.\n\n"
        "Example:\n  coilbook classes split T-11 --at-weight 11.3 --dry-run");

    options = std::make_shared<ChangeOptions>();
    command = add_below(classes, "join", "Make one class of two", options, terminal, status, join);
    command->add_option("NAME", options->name, "The class that stays")->type_name("")->required();
    command->add_option("OTHER", options->other, "The one that becomes part of it")
        ->type_name("")
        ->required();
    command->footer("Example:\n  coilbook classes join T-11 \"T-11 old\"");
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
    add_changes(*command, terminal, status);
    command->require_subcommand(0, 1);
    command->callback([options, command, &terminal, &status] {
        if (command->get_subcommands().empty()) status = list_classes(*options, terminal);
    });
}

}  // namespace coilbook::cli
