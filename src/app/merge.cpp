#include "app/merge.h"

#include <fmt/format.h>

#include <fstream>

#include "app/act_file.h"
#include "app/backups.h"
#include "app/dropped_file.h"
#include "app/private_file.h"
#include "app/staged_copy.h"
#include "app/text_width.h"
#include "base/text.h"
#include "db/backup.h"
#include "store/conflicts.h"
#include "store/merging.h"

namespace coilbook::app {
namespace {

namespace fs = std::filesystem;

// Leaves nothing of clients who were forgotten elsewhere. The merge stands whether or not it can.
void wipe(Workshop& workshop) {
    try {
        workshop.catalogue().wipe_deleted();
    } catch (const Error& error) {
        if (!workshop.surroundings().warn) return;
        workshop.surroundings().warn(
            fmt::format("clients were forgotten on the other laptop, and traces of their names "
                        "stay in the file "
                        "until no other program has it open and one is forgotten again: {}",
                        error.what()));
    }
}

Result<MergeReport> merge_from(Workshop& workshop, store::ActSource& theirs,
                               const MergeRequest& request) {
    auto& catalogue = workshop.catalogue();
    MergeReport report;
    store::MergeOptions options{.joins_strangers = request.joins_strangers,
                                .is_dry_run = request.is_dry_run};
    options.before_keeping = [&] { report.backup = back_up_before(workshop, "merge"); };
    workshop.progress().begin("Bringing the copies together");
    const auto merged = [&] {
        const auto breakable = catalogue.breaks_off_when_unwanted();
        return store::merge(catalogue, theirs, options);
    }();
    if (!merged) return tl::unexpected(merged.error());
    report.came = merged->came;
    report.known = merged->known;
    report.persons = merged->persons;
    report.damaged_pictures = merged->damaged_pictures;
    report.pictures_back = merged->pictures_back;
    if (request.is_dry_run) return report;
    if (merged->forgotten > 0) wipe(workshop);
    report.conflicts = catalogue.conflicts().list().size();
    workshop.refresh();
    return report;
}

}  // namespace

std::vector<std::string> lines_of(const MergeReport& report, bool is_dry_run) {
    constexpr std::size_t most = 20;
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < report.came.size() && at < most; ++at) {
        const auto& note = report.came[at];
        lines.push_back(
            "  " + moment_in_words(note.at) + "  " +
            on_one_line(note.laptop.empty() ? note.what : note.laptop + ": " + note.what));
    }
    if (report.came.size() > most) {
        lines.push_back(fmt::format("  and {} more", report.came.size() - most));
    }
    lines.push_back(fmt::format("{} {} {} not here before, {} here already",
                                is_dry_run ? "would take in" : "took in", report.came.size(),
                                report.came.size() == 1 ? "act" : "acts", report.known));
    if (report.persons > 0) lines.back() += fmt::format("; {} clients told anew", report.persons);
    if (report.damaged_pictures > 0) {
        lines.push_back(fmt::format(
            "{} damaged {} left out: 'coilbook check' names {}", report.damaged_pictures,
            report.damaged_pictures == 1 ? "picture was" : "pictures were",
            report.damaged_pictures == 1 ? "its photograph" : "their photographs"));
    }
    if (report.pictures_back > 0) {
        lines.push_back(fmt::format("{} whole again",
                                    report.pictures_back == 1
                                        ? "1 picture is"
                                        : fmt::format("{} pictures are", report.pictures_back)));
    }
    if (report.backup) {
        lines.push_back("what was here before is kept as " + on_one_line(report.backup->string()));
    }
    return lines;
}

Result<MergeReport> merge(Workshop& workshop, const fs::path& other, const MergeRequest& request) {
    const auto& here = workshop.catalogue().file();
    std::error_code not_there;
    if (!here.empty() && fs::equivalent(other, here, not_there)) {
        return problem("OTHER", coilbook::quoted(other.string(), 300) + " is this catalogue itself",
                       "another copy of it");
    }
    if (is_exchange_file(other)) {
        return problem(
            "OTHER",
            coilbook::quoted(other.string(), 300) + " is an exchange file, not a catalogue",
            "a catalogue; 'coilbook exchange take-in' takes in an exchange file");
    }
    workshop.progress().begin("Looking through the other copy");
    const StagedCopy staged(other, here.empty() ? other : here, ".merging");
    const auto theirs = store::Catalogue::open(staged.file());
    if (const auto& copy = theirs.migrated().backup) fs::remove(*copy);
    auto& progress = workshop.progress();
    for (const auto& inspection : theirs.audit([&](double part) { progress.reached(part); })) {
        if (inspection.wrong.empty() || !inspection.is_damage) continue;
        return problem("OTHER",
                       fmt::format("{} is not sound: {}: {}", coilbook::quoted(other.string(), 300),
                                   inspection.what, inspection.wrong.front()),
                       "a catalogue that 'coilbook check' finds sound");
    }
    auto acts = store::acts_of(theirs);
    return merge_from(workshop, acts, request);
}

Result<int> write_exchange(Workshop& workshop, const fs::path& file, bool with_names) {
    auto acts = store::acts_of(workshop.catalogue());
    int written = 0;
    const auto filled = fill_new_private_file(file, "FILE", [&](std::ostream& out) {
        written = write_acts(acts, out, workshop.surroundings().program, with_names);
    });
    if (!filled) return tl::unexpected(filled.error());
    return written;
}

Result<MergeReport> take_in_exchange(Workshop& workshop, const fs::path& file,
                                     const MergeRequest& request) {
    std::error_code none;
    if (!fs::is_regular_file(file, none)) {
        return problem("FILE", coilbook::quoted(file.string(), 300) + " is not there or no file",
                       "a file that 'coilbook exchange write' made");
    }
    if (kind_of(file) == FileKind::catalogue) {
        db::check_given(file, store::catalogue_kind());
        return problem(
            "FILE", coilbook::quoted(file.string(), 300) + " is a catalogue, not an exchange file",
            "an exchange file; 'coilbook merge' takes in a catalogue");
    }
    std::ifstream in(file, std::ios::binary);
    if (!in) throw Error(coilbook::quoted(file.string(), 300) + " cannot be read");
    ActFile acts(in, file.string());
    return merge_from(workshop, acts, request);
}

}  // namespace coilbook::app
