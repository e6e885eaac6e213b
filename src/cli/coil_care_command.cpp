// coilbook coils condition|photograph|sink-rates: what befell a coil, its pictures, how it sinks.
#include <memory>
#include <string>

#include "app/coil_care.h"
#include "app/coil_changes.h"
#include "app/sink_by_water.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string code;
    std::string condition, note;
    std::string file_to_add, file_to_save, photograph, photograph_to_put_away;
    bool is_good_again = false;
    app::Format format = app::Format::table;
};

int condition(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    if (options.condition.empty()) {
        app::write_conditions(workshop, *coil, terminal.out, options.format, terminal.out_width);
        return done;
    }
    const auto what = wear_from(options.condition);
    if (!what) return status_of(what, terminal);
    return status_of(
        app::note_condition(workshop, *coil, *what, !options.is_good_again, options.note),
        terminal);
}

int photograph(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    if (!options.file_to_add.empty()) {
        const auto added = app::add_photograph(workshop, *coil, options.file_to_add, options.note);
        if (added) terminal.out << added->id.text() << '\n';
        return status_of(added, terminal);
    }
    if (!options.photograph_to_put_away.empty()) {
        const auto found = app::photograph_called(workshop, *coil, options.photograph_to_put_away);
        if (!found) return status_of(found, terminal);
        return status_of(app::put_photograph_away(workshop, *coil, found->id), terminal);
    }
    if (!options.file_to_save.empty()) {
        const auto found = app::photograph_called(workshop, *coil, options.photograph);
        if (!found) return status_of(found, terminal);
        return status_of(app::save_photograph(workshop, *found, options.file_to_save), terminal);
    }
    app::write_photographs(workshop, *coil, terminal.out, options.format, terminal.out_width);
    return done;
}

int sink_rates(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    return status_of(
        app::write_sink_by_water(workshop, *coil, terminal.out, options.format, terminal.out_width),
        terminal);
}

}  // namespace

void add_coil_care(CLI::App& coils, const Terminal& terminal, int& status) {
    auto options = std::make_shared<Options>();
    auto* command = add_below(coils, "condition", "What was seen on a coil, or note it", options,
                              terminal, status, condition);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    command
        ->add_option("CONDITION", options->condition,
                     "cracked coating, hinge, kink, worn loop, worn through or other; without it, "
                     "all that was noted")
        ->type_name("");
    command->add_flag("--good-again", options->is_good_again, "It is mended, or good again");
    command->add_option("--note", options->note, "More about it; 'other' needs it")
        ->type_name("TEXT");
    add_format(*command, options->format);
    command->footer(
        "Example: a loop is worn, and later there is a new one\n"
        "  coilbook coils condition A7 \"worn loop\" --note \"the thick end\"\n"
        "  coilbook coils condition A7 \"worn loop\" --good-again");

    options = std::make_shared<Options>();
    command = add_below(coils, "photograph", "The photographs of a coil, or one more", options,
                        terminal, status, photograph);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    auto* add = command->add_option("--add", options->file_to_add,
                                    "Take in this PNG or JPEG file, of at most 8 MiB");
    add->type_name("FILE");
    command->add_option("--note", options->note, "What it shows")->type_name("TEXT")->needs(add);
    auto* save = command->add_option("--save", options->file_to_save,
                                     "Write the last photograph, or that of --id, to a new file");
    save->type_name("FILE")->excludes(add);
    command->add_option("--id", options->photograph, "Which one")->type_name("ID")->needs(save);
    command->add_option("--put-away", options->photograph_to_put_away, "Show this one no more")
        ->type_name("ID")
        ->excludes(add)
        ->excludes(save);
    add_format(*command, options->format);
    command->footer(
        "Photographs lie in the catalogue, and its backups carry them.\n\n"
        "Example:\n"
        "  coilbook coils photograph A7 --add loop.jpg --note \"the worn loop\"");

    options = std::make_shared<Options>();
    command = add_below(coils, "sink-rates",
                        "How fast a coil sinks in fresh and sea water, from 0 to 25 C", options,
                        terminal, status, sink_rates);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook coils sink-rates A7 --format csv");
}

}  // namespace coilbook::cli
