// coilbook coils list|doubtful|show|add|make-class|confirm|take-back: the coils of the catalogue.
#include <memory>
#include <string>
#include <vector>

#include "app/codes.h"
#include "app/coil_changes.h"
#include "app/coil_rows.h"
#include "app/groups.h"
#include "app/learning.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string code;
    std::vector<std::string> codes;
    std::string class_name;
    std::string family;
    std::string words;  // notes, or why
    app::Format format = app::Format::table;
};

int list(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::list_coils(workshop, terminal.out, options.format, terminal.out_width);
    return done;
}

int show(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(
        app::show_coil(workshop, options.code, terminal.out, options.format, terminal.out_width),
        terminal);
}

int doubtful(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::list_doubtful(workshop, terminal.out, options.format, terminal.out_width);
    return done;
}

int add(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto code = options.code.empty() ? app::new_code(workshop) : options.code;
    const auto added = app::add_coil(workshop, code, options.words);
    if (added && options.code.empty()) terminal.out << added->code << '\n';
    return status_of(added, terminal);
}

int make_class(const Options& options, const Terminal& terminal) {
    (void)value_of("--family", app::family_of_class(options.family));
    auto workshop = open_workshop(options.catalog, terminal);
    return status_of(app::make_class(workshop, options.class_name, options.family, options.codes),
                     terminal);
}

int confirm(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    const auto confirmed = app::confirm_coil(workshop, *coil, options.class_name, options.words);
    if (!confirmed) return status_of(confirmed, terminal);
    terminal.err << options.code << " is confirmed as " << options.class_name << '\n';
    if (const auto doubt = app::doubt_about(workshop, coil->id); !doubt.empty()) {
        terminal.err << "note: " << doubt << '\n';
    }
    return done;
}

int take_back(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto coil = app::coil_by_code(workshop, options.code);
    if (!coil) return status_of(coil, terminal);
    return status_of(app::take_confirmation_back(workshop, *coil, options.words), terminal);
}

}  // namespace

void add_coils(CLI::App& program, const Terminal& terminal, int& status) {
    auto* coils = program.add_subcommand("coils", "The coils of the catalogue");
    coils->require_subcommand(1);
    coils->footer(
        "Example: every coil with what it is held to be\n"
        "  coilbook coils list");

    auto options = std::make_shared<Options>();
    auto* command = add_below(*coils, "list", "All coils, with what each is held to be", options,
                              terminal, status, list);
    add_format(*command, options->format);
    command->footer(
        "Example: the coils that still need a reading\n"
        "  coilbook coils list --format csv | grep 'needs a reading'");

    options = std::make_shared<Options>();
    command = add_below(*coils, "doubtful",
                        "The confirmed coils that look wrong beside the others of their class",
                        options, terminal, status, doubtful);
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook coils doubtful");

    options = std::make_shared<Options>();
    command = add_below(*coils, "show", "One coil: its readings, its verdict and the reasons",
                        options, terminal, status, show);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook coils show A7");

    options = std::make_shared<Options>();
    command = add_below(*coils, "add", "Put a new coil into the catalogue", options, terminal,
                        status, add);
    command
        ->add_option("CODE", options->code,
                     "A short name for its label; without one a code is given, and printed")
        ->type_name("");
    command->add_option("--notes", options->words, "Whatever should be remembered of it")
        ->type_name("TEXT");
    command->footer("Example:\n  coilbook coils add A7 --notes \"from the drift boat\"");

    options = std::make_shared<Options>();
    command =
        add_below(*coils, "make-class", "Make a class of your own from coils that are one line",
                  options, terminal, status, make_class);
    command->add_option("NAME", options->class_name, "What to call it")->type_name("")->required();
    command->add_option("CODES", options->codes, "The coils that are of it")
        ->type_name("")
        ->required();
    command
        ->add_option("--family", options->family,
                     "level line, matched tip or sinking leader, if it is one")
        ->type_name("FAMILY");
    command->footer(
        "'coilbook groups' tells which coils are one line. These are confirmed as the class, and "
        "from\n"
        "then on verdicts know it.\n\n"
        "Example:\n"
        "  coilbook coils make-class \"green box tip\" A7 B2 C11 --family \"matched tip\"");

    options = std::make_shared<Options>();
    command = add_below(*coils, "confirm", "Give your word for what a coil is", options, terminal,
                        status, confirm);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    command->add_option("CLASS", options->class_name, "A class, as 'coilbook classes' names it")
        ->type_name("")
        ->required();
    command->add_option("--note", options->words, "How you know")->type_name("TEXT");
    command->footer("Example:\n  coilbook coils confirm A7 T-11 --note \"the spool turned up\"");

    options = std::make_shared<Options>();
    command = add_below(*coils, "take-back", "Take back what you said that a coil is", options,
                        terminal, status, take_back);
    command->add_option("CODE", options->code, "The coil's code")->type_name("")->required();
    command->add_option("--note", options->words, "Why")->type_name("TEXT");
    command->footer("Example:\n  coilbook coils take-back A7 --note \"wrong coil in hand\"");

    add_coil_care(*coils, terminal, status);
}

}  // namespace coilbook::cli
