// coilbook export, import: the catalogue's things as tables, out and in again.
#include <fmt/format.h>

#include <memory>
#include <optional>
#include <string>

#include "app/export_table.h"
#include "app/import_table.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/progress_line.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string kind;
    std::string file;
    std::string format;
    std::string refused_into;
    bool is_dry_run = false;
    bool with_names = false;
    app::Format rows = app::Format::table;
};

const store::Kind& kind_from(const std::string& name) {
    return *value_of("KIND", store::kind_named(name));
}

// Nothing where the file's name says it.
std::optional<app::Format> export_format(const Options& options) {
    if (options.format.empty()) return std::nullopt;
    if (options.format == "csv") return app::Format::csv;
    if (options.format == "json") return app::Format::json;
    throw CLI::ValidationError("--format", "expected csv or json");
}

int write_out(const Options& options, const Terminal& terminal) {
    const auto& kind = kind_from(options.kind);
    const auto format = export_format(options);
    auto workshop = open_workshop(options.catalog, terminal);
    if (options.file.empty()) {
        app::export_table(workshop, kind, terminal.out, format.value_or(app::Format::csv),
                          options.with_names);
        return done;
    }
    const auto written =
        app::export_to_file(workshop, kind, options.file, format, options.with_names);
    if (!written) return status_of(written, terminal);
    terminal.err << "exported " << kind.name << " to " << app::on_one_line(options.file) << '\n';
    return done;
}

int bring_in(const Options& options, const Terminal& terminal) {
    app::ImportRequest request;
    request.kind = &kind_from(options.kind);
    request.file = options.file;
    request.is_dry_run = options.is_dry_run;
    if (!options.refused_into.empty()) request.refused_into = options.refused_into;
    request.format = options.rows;
    request.terminal_width = terminal.out_width;
    auto workshop = open_workshop(options.catalog, terminal);
    ProgressLine progress(terminal, true);
    app::ImportReports reports;
    reports.problem = [&](const Problem& problem) {
        progress.hide();
        if (!options.is_dry_run) tell(terminal, problem);  // a dry run has it among its rows
    };
    reports.progress = [&](std::size_t rows) { progress.show(rows, "rows"); };
    const auto counts = app::import_table(workshop, request, terminal.out, reports);
    progress.hide();
    if (!counts) return status_of(counts, terminal);
    const bool is_refused = counts->refused > 0 && !request.refused_into;
    const bool is_done = !options.is_dry_run && !is_refused;
    terminal.err << fmt::format("{} {} added, {} changed, {} the same, {} refused\n",
                                is_done ? "done:" : "would be:", counts->added, counts->changed,
                                counts->same, counts->refused);
    if (!options.is_dry_run && is_refused) terminal.err << "Nothing was imported.\n";
    if (is_done && counts->refused > 0) {
        terminal.err << "The refused rows are in " << app::on_one_line(options.refused_into)
                     << ".\n";
    }
    return counts->refused > 0 ? could_not_be_done : done;
}

std::string kinds_in_words() {
    std::string words;
    for (const auto& kind : store::all_kinds()) {
        words += (words.empty() ? "" : ", ") + std::string(kind.name);
    }
    return words;
}

}  // namespace

void add_tables(CLI::App& program, const Terminal& terminal, int& status) {
    auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "export", "Write all things of one kind as a table that can be imported again");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("KIND", options->kind, "One of " + kinds_in_words())
        ->type_name("")
        ->required();
    command->add_option("FILE", options->file, "A new file, readable by you alone; else the output")
        ->type_name("");
    command->add_option("--format", options->format, "csv (default) or json (also for FILE.json)")
        ->type_name("csv|json");
    command->add_flag("--with-names", options->with_names,
                      "With who the clients are: names, hands, notes; else only their codes");
    command->footer(
        "Every value is exact, and text that a spreadsheet would run as a formula is written\n"
        "with an apostrophe before it, which 'import' takes off again.\n"
        "Example: the readings of the whole bin, for another program\n"
        "  coilbook export readings readings.csv");
    command->callback([options, &terminal, &status] { status = write_out(*options, terminal); });

    options = std::make_shared<Options>();
    command = program.add_subcommand("import", "Bring a table of 'export', or one like it, in");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("KIND", options->kind, "One of " + kinds_in_words())
        ->type_name("")
        ->required();
    command->add_option("FILE", options->file, "CSV or JSON")->type_name("")->required();
    command->add_flag("--dry-run", options->is_dry_run, "Tell row by row what would change");
    command
        ->add_option("--keep-going", options->refused_into,
                     "Import the good rows, and write the others with the reason into this new "
                     "file; else one bad row refuses all")
        ->type_name("REFUSED.csv");
    add_format(*command, options->rows);
    command->footer(
        "A row means the thing of its id (a coil also of its code); columns that the file does "
        "not\n"
        "have stay as they are, and the same file again changes nothing. Into a new catalogue "
        "bring\n"
        "kinds in the order above. For a table that you filled in at the bench, one row a coil, "
        "use\n"
        "'coilbook readings take-in'; for your instruments' figures 'coilbook instruments "
        "take-in'.\n"
        "'coilbook undo' takes an import back.\n"
        "Example: notes edited in a spreadsheet\n"
        "  coilbook export coils coils.csv\n"
        "  coilbook import coils coils.csv --dry-run\n"
        "  coilbook import coils coils.csv");
    command->callback([options, &terminal, &status] { status = bring_in(*options, terminal); });
}

}  // namespace coilbook::cli
