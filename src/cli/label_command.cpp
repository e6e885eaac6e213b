// coilbook label: labels, flags and the key to the loop marks.
#include <memory>
#include <string>
#include <vector>

#include "app/codes.h"
#include "app/labels.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"
#include "labels/label_files.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::vector<std::string> codes;
    std::string sheet;
    std::string out = "labels.pdf";
    std::size_t start = 1;
    int fresh = 0;
    int dots_per_inch = 300;
    bool all = false, flags = false, notes = false, outlines = false, key = false, sheets = false;
    app::Format format = app::Format::table;
};

int list_sheets(const Options& options, const Terminal& terminal) {
    app::RowWriter writer(terminal.out, {{"sheet"}, {"labels"}}, options.format,
                          terminal.out_width);
    for (const auto& known : labels::named_sheets()) {
        writer.add({std::string(known.name), std::string(known.what)});
    }
    writer.finish("Any other grid can be said in words: 'coilbook label --help'.");
    return done;
}

int write_key(const Options& options, const Terminal& terminal) {
    const auto sheet = value_of(
        "--sheet", labels::sheet_from(options.sheet.empty() ? "plain-letter" : options.sheet));
    app::write_file(options.out, labels::mark_key_pdf(sheet.paper));
    terminal.err << "the key to the loop marks is in " << app::on_one_line(options.out) << '\n';
    return done;
}

int write(const Options& options, const Terminal& terminal) {
    if (options.sheets) return list_sheets(options, terminal);
    if (options.key) return write_key(options, terminal);
    app::LabelRequest request;
    request.codes = options.codes;
    request.all = options.all;
    request.with_notes = options.notes;
    request.shape = options.flags ? labels::Shape::flag : labels::Shape::label;
    request.sheet = app::usual_label_sheet();
    if (options.flags || !options.sheet.empty()) {
        request.sheet = value_of(
            "--sheet", labels::sheet_from(options.sheet.empty() ? "flags-letter" : options.sheet));
    }
    request.first_cell = options.start - 1;
    request.outlines = options.outlines;
    request.out = options.out;
    request.dots_per_inch = options.dots_per_inch;
    auto workshop = open_workshop(options.catalog, terminal);
    request.blank = app::new_codes(workshop, options.fresh);
    const auto made = app::write_labels(workshop, request);
    if (!made) return status_of(made, terminal);
    terminal.err << made->labels << (made->labels == 1 ? " label" : " labels") << " on "
                 << made->pages << (made->pages == 1 ? " page: " : " pages: ")
                 << app::on_one_line(options.out) << '\n';
    for (const auto& code : request.blank) terminal.out << code << '\n';
    return done;
}

}  // namespace

void add_label(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand("label", "Labels to print: sheets, flags, one picture");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("CODES", options->codes, "The things to label, by their codes")
        ->type_name("");
    command->add_flag("--all", options->all, "Every coil of the bin");
    command
        ->add_option("--new", options->fresh,
                     "So many labels with new codes, to stick on first; the codes are printed")
        ->type_name("N")
        ->check(CLI::Range(1, 10'000));
    command
        ->add_option("--sheet", options->sheet,
                     "A sheet's name (--sheets lists them) or its grid in words")
        ->type_name("SHEET");
    command->add_option("--start", options->start, "The first free label of the sheet, from 1")
        ->type_name("N")
        ->check(CLI::Range(1, 100'000))
        ->capture_default_str();
    command->add_flag("--flags", options->flags, "Flags to fold round the line");
    command->add_flag("--notes", options->notes, "With the notes on them");
    command->add_flag("--outlines", options->outlines,
                      "With a hairline round each label, to try a sheet on plain paper");
    command->add_option("--out", options->out, "The file: .pdf, or for one label .png or .svg")
        ->type_name("FILE")
        ->capture_default_str();
    command->add_option("--dpi", options->dots_per_inch, "Dots per inch of a PNG")
        ->type_name("N")
        ->check(CLI::Range(50, 1200))
        ->capture_default_str();
    command->add_flag("--key", options->key, "Only the page that explains the loop marks");
    command->add_flag("--sheets", options->sheets, "Only list the sheets that are known by name");
    add_format(*command, options->format);
    command->footer(
        "The QR code is the plain code: a scanner types it, a telephone shows it, no network "
        "needed.\n"
        "A sheet in words: its paper (letter, a4, 'roll WIDTH' or 'WIDTH x HEIGHT'), the grid, "
        "and\n"
        "label, margin (left x top) and gap with two lengths.\n"
        "Print at 100 %, not fitted to the page. Cut line wet and wipe up: its coating may hold\n"
        "tungsten or lead, and the dust harms. Take hooks off before handling.\n"
        "Examples: a sheet that four labels were taken from, a grid of one's own, one picture\n"
        "  coilbook label A7 B2 C11 --sheet letter-30 --start 5\n"
        "  coilbook label --all --sheet \"a4, 3 x 8, label 64 mm x 34 mm, gap 2 mm x 0 mm\"\n"
        "  coilbook label A7 --out a7.png\n"
        "  coilbook label --key --out marks.pdf");
    command->callback([options, &terminal, &status] { status = write(*options, terminal); });
}

}  // namespace coilbook::cli
