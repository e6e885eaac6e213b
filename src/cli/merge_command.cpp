// coilbook merge, exchange, conflicts: bringing together what was done on laptops apart.
#include <fmt/format.h>

#include <memory>
#include <string>

#include "app/conflict_rows.h"
#include "app/merge.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string file;
    std::string conflict;
    int choice = 0;
    bool with_names = false;
    app::MergeRequest request;
    app::Format format = app::Format::table;
};

void tell_merged(const app::MergeReport& report, bool is_dry_run, std::ostream& err) {
    for (const auto& line : app::lines_of(report, is_dry_run)) err << line << '\n';
    if (report.conflicts > 0) {
        err << fmt::format("{}: 'coilbook conflicts list' shows what is to be settled\n",
                           report.conflicts == 1
                               ? "1 thing was changed on both"
                               : fmt::format("{} things were changed on both", report.conflicts));
    }
}

int told(const Result<app::MergeReport>& report, const Options& options, const Terminal& terminal) {
    if (report) tell_merged(*report, options.request.is_dry_run, terminal.err);
    return status_of(report, terminal);
}

int merge(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return told(app::merge(workshop, options.file, options.request), options, terminal);
}

int take_in(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    return told(app::take_in_exchange(workshop, options.file, options.request), options, terminal);
}

int write(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto written = app::write_exchange(workshop, options.file, options.with_names);
    if (written) {
        terminal.err << fmt::format("wrote {} acts to {}", *written, app::on_one_line(options.file))
                     << (options.with_names ? ", and what clients are called\n" : "\n");
    }
    return status_of(written, terminal);
}

int list(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto conflicts =
        app::write_conflicts(workshop, terminal.out, options.format, terminal.out_width);
    if (conflicts == 0) terminal.err << "there is nothing to settle\n";
    return done;
}

int settle(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto settled = app::settle(workshop, options.conflict, options.choice);
    if (settled) {
        for (const auto& sentence : *settled) terminal.err << app::on_one_line(sentence) << '\n';
    }
    return status_of(settled, terminal);
}

void add_merging_options(CLI::App& command, Options& options) {
    command.add_flag("--dry-run", options.request.is_dry_run,
                     "Only say what would come in; change nothing");
    command.add_flag("--join", options.request.joins_strangers,
                     "Make one of two catalogues that were made apart");
}

}  // namespace

void add_merge(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command =
        program.add_subcommand("merge", "Take in what was done in another copy of the catalogue");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("OTHER", options->file, "The other copy; it stays as it is")
        ->type_name("")
        ->required();
    add_merging_options(*command, *options);
    command->footer(
        "It does not matter which copy takes in the other, in which order, or how often. What two\n"
        "people changed apart is kept: the later change counts until you settle it.\n"
        "Example: what the boat's laptop has, then the same the other way round\n"
        "  coilbook merge /media/card/boat.coilbook\n"
        "  coilbook merge catalogue.coilbook --catalog /media/card/boat.coilbook");
    command->callback([options, &terminal, &status] { status = merge(*options, terminal); });
}

void add_exchange(CLI::App& program, const Terminal& terminal, int& status) {
    auto* exchange = program.add_subcommand(
        "exchange", "Carry what was done to another laptop in a file, without names");
    exchange->require_subcommand(1);
    exchange->footer(
        "The other laptop begins with a copy of this catalogue: 'coilbook backup FILE' here,\n"
        "'coilbook restore FILE' there. From then on each writes what was done, and takes in what "
        "the\n"
        "other one wrote.\nExample:\n  coilbook exchange write /media/stick/shop.exchange");

    auto options = std::make_shared<Options>();
    auto* command = add_below(*exchange, "write", "Write everything that was done into a new file",
                              options, terminal, status, write);
    command->add_option("FILE", options->file, "The file")->type_name("")->required();
    command->add_flag("--with-names", options->with_names,
                      "Also what clients are called; without it the file has only their codes");
    command->footer("Example:\n  coilbook exchange write /media/stick/shop.exchange");

    options = std::make_shared<Options>();
    command = add_below(*exchange, "take-in", "Take in what another laptop wrote", options,
                        terminal, status, take_in);
    command->add_option("FILE", options->file, "The file")->type_name("")->required();
    add_merging_options(*command, *options);
    command->footer("Example:\n  coilbook exchange take-in /media/stick/boat.exchange");
}

void add_conflicts(CLI::App& program, const Terminal& terminal, int& status) {
    auto* conflicts = program.add_subcommand(
        "conflicts", "What was changed on two laptops apart, and what is right");
    conflicts->require_subcommand(1);
    conflicts->footer("Example:\n  coilbook conflicts list");

    auto options = std::make_shared<Options>();
    auto* command = add_below(*conflicts, "list", "What is to be settled, a row for each choice",
                              options, terminal, status, list);
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook conflicts list");

    options = std::make_shared<Options>();
    command = add_below(*conflicts, "settle", "Say which choice is right", options, terminal,
                        status, settle);
    command->add_option("CONFLICT", options->conflict, "As 'conflicts list' shows it")
        ->type_name("")
        ->required();
    command->add_option("CHOICE", options->choice, "The number of the choice")
        ->type_name("")
        ->required()
        ->check(CLI::Range(1, 1'000));
    command->footer(
        "Example: the second value is the right one\n  coilbook conflicts settle 3f2a 2");
}

}  // namespace coilbook::cli
