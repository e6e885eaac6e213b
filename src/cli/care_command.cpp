// coilbook check, backup, restore, salvage: the care of the catalogue's file.
#include <fmt/format.h>

#include <memory>
#include <string>

#include "app/backups.h"
#include "app/check_catalogue.h"
#include "app/prune.h"
#include "app/restore.h"
#include "app/salvage.h"
#include "catalog/outing.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/run.h"

namespace coilbook::cli {
namespace {

struct Options {
    std::string catalog;
    std::string file;
    std::string before;
    bool is_agreed = false;
    app::Format format = app::Format::table;
};

int check(const Options& options, const Terminal& terminal) {
    const bool is_sound = app::check_catalogue(existing_catalogue(options.catalog), terminal.out,
                                               options.format, terminal.out_width);
    return is_sound ? done : could_not_be_done;
}

int back_up(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    const auto target =
        options.file.empty() ? std::nullopt : std::optional<std::filesystem::path>(options.file);
    const auto made = app::back_up(workshop, target);
    if (!made) return status_of(made, terminal);
    terminal.err << "backed up to " << app::on_one_line(made->file.string()) << '\n';
    if (made->is_sound) return done;
    terminal.err
        << "note: the catalogue is not sound, and so neither is the copy; 'coilbook check' "
           "says what is wrong\n";
    return could_not_be_done;
}

bool says_yes(const Options& options, const Terminal& terminal, const char* question) {
    return options.is_agreed || (terminal.asks && terminal.asks(question));
}

// `what` would be done with --yes: "restore".
int not_done(const Problem& problem, const Options& options, const Terminal& terminal,
             const char* what) {
    tell(terminal, problem);
    if (!options.is_agreed && !terminal.asks) {
        terminal.err << "Nobody is at the keyboard: give --yes to " << what << " it.\n";
    }
    return could_not_be_done;
}

int restore(const Options& options, const Terminal& terminal) {
    const auto agrees = [&](const app::RestorePlan& plan) {
        for (const auto& line : app::lines_of(plan)) terminal.err << line << '\n';
        return says_yes(options, terminal, "Restore it? [y/N] ");
    };
    const auto replaced = app::restore(options.file, catalogue_path_from(options.catalog),
                                       terminal.surroundings, agrees);
    if (!replaced) return not_done(replaced.error(), options, terminal, "restore");
    terminal.err << "restored";
    if (*replaced) {
        terminal.err << "; what it replaced is kept as " << app::on_one_line((*replaced)->string());
    }
    terminal.err << '\n';
    return done;
}

void tell_prunable(const store::Prunable& what, std::ostream& err) {
    constexpr std::size_t most = 20;
    err << what.coils.size() << (what.coils.size() == 1 ? " coil" : " coils");
    for (std::size_t at = 0; at < what.coils.size() && at < most; ++at) {
        err << (at == 0 ? ": " : ", ") << app::on_one_line(what.coils[at]);
    }
    if (what.coils.size() > most) err << fmt::format(" and {} more", what.coils.size() - most);
    err << '\n';
    if (what.confirmed > 0) {
        err << fmt::format(
            "{} of these are confirmed: what classes learned from them is forgotten\n",
            what.confirmed);
    }
    err << fmt::format("{} {} that no photograph shows any more, {} kB\n", what.pictures.size(),
                       what.pictures.size() == 1 ? "picture" : "pictures", what.bytes / 1000);
}

int prune(const Options& options, const Terminal& terminal) {
    auto workshop = open_workshop(options.catalog, terminal);
    auto before = app::usual_pruning_moment(workshop);
    if (!options.before.empty()) {
        const auto day = day_from(options.before);
        if (!day) {
            auto wrong = day.error();
            wrong.field = "--before";
            tell(terminal, wrong);
            return could_not_be_done;
        }
        before = Instant(*day);
    }
    const auto pruned = app::prune(workshop, before, [&](const store::Prunable& what) {
        terminal.err << "deleted for good would be what has counted no more since before "
                     << to_text(before).substr(0, 10) << ":\n";
        tell_prunable(what, terminal.err);
        terminal.err << "Copies of this catalogue on other laptops can be merged with it no more: "
                        "merge first.\n";
        return says_yes(options, terminal, "Delete it? [y/N] ");
    });
    if (!pruned) return not_done(pruned.error(), options, terminal, "delete");
    if (pruned->what.is_empty()) {
        terminal.err << "there is nothing to delete\n";
        return done;
    }
    terminal.err << "deleted";
    if (pruned->backup) {
        terminal.err << "; what was here before is kept as "
                     << app::on_one_line(pruned->backup->string());
    }
    terminal.err << '\n';
    return done;
}

int salvage(const Options& options, const Terminal& terminal) {
    const auto outcome =
        app::salvage(existing_catalogue(options.catalog), options.file, terminal.surroundings,
                     terminal.out, options.format, terminal.out_width);
    terminal.err << "salvaged to " << app::on_one_line(options.file)
                 << (outcome.is_whole ? "; nothing was lost" : "; some of it was lost");
    if (outcome.classes_put_back > 0) {
        terminal.err << "; classes of the built-in library put back: " << outcome.classes_put_back;
    }
    terminal.err << '\n';
    return done;
}

}  // namespace

void add_care(CLI::App& program, const Terminal& terminal, int& status) {
    auto options = std::make_shared<Options>();
    auto* command = program.add_subcommand(
        "check", "Whether the catalogue is sound: the file, its history, its rows");
    add_catalog(*command, options->catalog, or_default_catalogue);
    add_format(*command, options->format);
    command->footer(
        "Exit status 1 when something is wrong. The history's seals have no key: they find damage\n"
        "and careless edits, not a forger.\n"
        "Example:\n  coilbook check");
    command->callback([options, &terminal, &status] { status = check(*options, terminal); });

    options = std::make_shared<Options>();
    command = program.add_subcommand(
        "backup", "Copy the catalogue, whole and checked, while others may write to it");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command
        ->add_option("FILE", options->file,
                     "The copy; without it one named by the moment in the folder 'backups' beside "
                     "the catalogue")
        ->type_name("");
    command->footer(
        "Once a day, before the first change, the catalogue is copied into 'backups' by itself.\n"
        "Example:\n  coilbook backup /media/card/spring.coilbook");
    command->callback([options, &terminal, &status] { status = back_up(*options, terminal); });

    options = std::make_shared<Options>();
    command = program.add_subcommand("restore",
                                     "Go back to a backup, after showing what that would change");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("FILE", options->file, "The backup; it stays as it is")
        ->type_name("")
        ->required();
    command->add_flag("--yes", options->is_agreed, "Restore without asking");
    command->footer(
        "What is replaced is kept beside the catalogue.\n"
        "Example: what would change, and then the change\n"
        "  coilbook restore backups/catalogue.2026-11-24.coilbook\n"
        "  coilbook restore backups/catalogue.2026-11-24.coilbook --yes");
    command->callback([options, &terminal, &status] { status = restore(*options, terminal); });

    options = std::make_shared<Options>();
    command = program.add_subcommand(
        "prune", "Delete for good what has counted no more for long, after a backup");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command
        ->add_option(
            "--before", options->before,
            "The day, as 2026-01-31, since before which it has counted no more; without it "
            "a year ago")
        ->type_name("");
    command->add_flag("--yes", options->is_agreed, "Delete without asking");
    command->footer(
        "Deleted are coils that were retired or whose adding was undone, and were never handed "
        "out\n"
        "or promised, with all that hangs on them; and pictures of photographs that were put "
        "away.\n"
        "Nothing else ever deletes anything. The backup of before stays until you delete it.\n"
        "Example: what would be deleted, and then the deleting\n"
        "  coilbook prune --before 2026-01-01\n"
        "  coilbook prune --before 2026-01-01 --yes");
    command->callback([options, &terminal, &status] { status = prune(*options, terminal); });

    options = std::make_shared<Options>();
    command = program.add_subcommand(
        "salvage", "Bring what can be read of a damaged catalogue into a new one");
    add_catalog(*command, options->catalog, or_default_catalogue);
    command->add_option("OUT", options->file, "The new catalogue")->type_name("")->required();
    add_format(*command, options->format);
    command->footer(
        "Example:\n"
        "  coilbook salvage rescued.coilbook --catalog damaged.coilbook");
    command->callback([options, &terminal, &status] { status = salvage(*options, terminal); });
}

}  // namespace coilbook::cli
