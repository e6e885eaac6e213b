// coilbook hand, where and stock: custody.
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "app/custody.h"
#include "app/labels.h"
#include "app/season.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog, code, first = "1970-01-01", last = "9999-12-31", out;
    app::HandRequest hand;
    bool whole = false, by_boat = false, replace = false;
    app::Format format = app::Format::table;
};
using Shared = std::shared_ptr<Options>;

int hand(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto handed = app::hand_over(workshop, options.hand);
    if (!handed) return status_of(handed, terminal);
    for (const auto& sentence : *handed) terminal.err << app::on_one_line(sentence) << '\n';
    return done;
}

int where(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    if (options.whole || options.format != app::Format::table) {
        return status_of(app::write_custody_of(workshop, options.code, terminal.out, options.format,
                                               terminal.out_width),
                         terminal);
    }
    const auto found = app::where_is(workshop, options.code);
    if (found) terminal.out << app::on_one_line(*found) << '\n';
    return status_of(found, terminal);
}

int stock(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::write_stock(workshop, terminal.out, options.format, terminal.out_width);
    return done;
}

int out_now(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    app::write_out(workshop, terminal.out, options.format, terminal.out_width);
    return done;
}

int losses(const Options& options, const Terminal& terminal) {
    const app::Season season{value_of("--from", day_from(options.first)),
                             value_of("--until", day_from(options.last))};
    auto workshop = open_workshop(options.catalog, terminal);
    if (!options.out.empty()) {
        const auto ending = std::filesystem::path(options.out).extension();
        if (ending != ".svg" && ending != ".pdf") {
            throw CLI::ValidationError("--out", "a plot is a file that ends in .svg or .pdf");
        }
        app::Inventory inventory(workshop);
        const auto plot = app::losses_plot(workshop, inventory, season, options.by_boat);
        app::write_file(options.out, bar_plot(plot, ending == ".svg" ? labels::PlotFile::svg
                                                                     : labels::PlotFile::pdf));
        terminal.err << "the plot is in " << app::on_one_line(options.out) << '\n';
        return done;
    }
    const auto write = options.replace ? app::write_to_replace : app::write_losses;
    write(workshop, season, terminal.out, options.format, terminal.out_width);
    return done;
}

}  // namespace

void add_hand(CLI::App& program, const Terminal& terminal, int& status) {
    auto* parent = program.add_subcommand("hand", "Hand things out and take them back");
    parent->require_subcommand(1);
    parent->footer("Take hooks off first.\nExample:\n  coilbook hand out Heron R1 A7");

    struct Kind {
        const char* name;
        const char* what;
        Whereabouts to;
        const char* example;
    };
    for (const auto& kind :
         {Kind{"out", "Hand things out to a boat", Whereabouts::boat, "out Heron R1 A7"},
          Kind{"back", "They came back, were found, mended, or come out of a rig", Whereabouts::bin,
               "back R1 A7"},
          Kind{"lend", "Lend them to somebody", Whereabouts::lent, "lend A7 --client K7M3XM"},
          Kind{"lost", "They are lost", Whereabouts::lost, "lost A7 --note \"on a snag\""},
          Kind{"damaged", "They are here, but not to be used", Whereabouts::damaged, "damaged A7"},
          Kind{"retired", "They are used up or thrown away; their codes become free",
               Whereabouts::retired, "retired A7"}}) {
        const auto options = std::make_shared<Options>();
        options->hand.to = kind.to;
        auto* command = add_below(*parent, kind.name, kind.what, options, terminal, status, hand);
        if (kind.to == Whereabouts::boat) {
            command->add_option("BOAT", options->hand.boat, "The boat's name")
                ->type_name("")
                ->required();
        }
        command->add_option("CODES", options->hand.codes, "Rigs and coils")
            ->type_name("")
            ->required();
        if (kind.to == Whereabouts::lost || kind.to == Whereabouts::damaged) {
            command
                ->add_option("--boat", options->hand.boat,
                             "From which boat; else the one that it was with")
                ->type_name("BOAT");
        }
        if (kind.to == Whereabouts::lent) {
            command->add_option("--client", options->hand.client, "The client's code or name")
                ->type_name("CLIENT");
        }
        command->add_option("--note", options->hand.note, "What should be remembered of it")
            ->type_name("TEXT");
        command->footer(std::string("Example:\n  coilbook hand ") + kind.example);
    }
}

void add_where(CLI::App& program, const Terminal& terminal, int& status) {
    const auto options = std::make_shared<Options>();
    auto* command =
        add_below(program, "where", "Where a thing is", options, terminal, status, where);
    command->add_option("CODE", options->code, "Its code")->type_name("")->required();
    command->add_flag("--all", options->whole, "Where it was before, too; so csv and json do");
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook where A7");
}

void add_stock(CLI::App& program, const Terminal& terminal, int& status) {
    auto options = std::make_shared<Options>();
    auto* parent = add_below(program, "stock", "What there is of each class, and where", options,
                             terminal, status, stock);
    // CLI11 runs a command's own callback before that of a command below it.
    parent->callback([=, &terminal, &status] {
        if (parent->get_subcommands().empty()) status = stock(*options, terminal);
    });
    add_format(*parent, options->format);
    parent->footer(
        "Example: the stock; at the end of the day; at the end of the season\n"
        "  coilbook stock\n"
        "  coilbook stock out\n"
        "  coilbook stock losses --from 2026-05-01 --until 2026-10-31");

    options = std::make_shared<Options>();
    auto* command = add_below(*parent, "out", "What is out with boats, and did not come back",
                              options, terminal, status, out_now);
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook stock out");

    options = std::make_shared<Options>();
    command = add_below(*parent, "losses", "A season's losses, by boat and class", options,
                        terminal, status, losses);
    command->add_option("--from", options->first, "The first day")->type_name("DAY");
    command->add_option("--until", options->last, "The last day")->type_name("DAY");
    command->add_flag("--replace", options->replace,
                      "By class only: what is gone and what is left");
    command->add_option("--out", options->out, "As a plot: .svg or .pdf")->type_name("FILE");
    command->add_flag("--by-boat", options->by_boat, "The plot by boat instead of by class");
    add_format(*command, options->format);
    command->footer("Example:\n  coilbook stock losses --from 2026-05-01 --out losses.svg");
}

}  // namespace coilbook::cli
