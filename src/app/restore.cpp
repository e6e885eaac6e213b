#include "app/restore.h"

#include <fmt/format.h>

#include <set>

#include "app/act_file.h"
#include "app/backups.h"
#include "app/private_file.h"
#include "app/staged_copy.h"
#include "app/text_width.h"
#include "base/text.h"
#include "store/coil_repository.h"
#include "store/reading_repository.h"

namespace coilbook::app {
namespace {

namespace fs = std::filesystem;

// The catalogue as it is, unless it is missing or damaged.
std::optional<store::Catalogue> opened(const fs::path& file) {
    if (!fs::exists(fs::symlink_status(file))) return std::nullopt;
    try {
        return store::Catalogue::open(file);
    } catch (const db::Damage&) {
        return std::nullopt;
    }
}

Holdings holdings_of(const store::Catalogue& catalogue) {
    Holdings holdings;
    for (const auto& listing : catalogue.coils().list()) {
        ++holdings.coils;
        holdings.readings += listing.readings;
        if (listing.confirmed_class) ++holdings.confirmed;
    }
    const auto last = catalogue.history().list({.limit = 1, .offset = 0});
    if (!last.empty()) holdings.last_act = last.front();
    return holdings;
}

// The entries of `all` that are not among `others`.
std::vector<store::HistoryEntry> only_in(const std::vector<store::HistoryEntry>& all,
                                         const std::vector<store::HistoryEntry>& others) {
    std::set<Id<store::Act>> known;
    for (const auto& entry : others) known.insert(entry.note.id);
    std::vector<store::HistoryEntry> found;
    for (const auto& entry : all) {
        if (!known.contains(entry.note.id)) found.push_back(entry);
    }
    return found;
}

// The folder that the catalogue is to lie in, where a new laptop has none yet; gone again where
// nothing came into it.
class FolderToBe {
  public:
    explicit FolderToBe(const fs::path& catalogue)
        : folder_(catalogue.parent_path()), is_new_(make_private_folder_of(catalogue)) {}
    ~FolderToBe() {
        std::error_code not_empty;
        if (is_new_) fs::remove(folder_, not_empty);
    }
    FolderToBe(const FolderToBe&) = delete;
    FolderToBe& operator=(const FolderToBe&) = delete;

  private:
    fs::path folder_;
    bool is_new_;
};

// Where what is replaced is kept: a name beside the catalogue that is free.
fs::path place_of_replaced(const fs::path& catalogue, Instant now) {
    const auto stem = catalogue.parent_path() / catalogue.stem();
    const auto base = fmt::format("{}.replaced-{}", stem.string(), moment_in_name(now));
    fs::path place = base + ".coilbook";
    for (int n = 2; fs::exists(place); ++n) place = fmt::format("{}-{}.coilbook", base, n);
    return place;
}

std::string line_of(const Holdings& holdings) {
    auto line = fmt::format("{} coils, {} readings, {} confirmed", holdings.coils,
                            holdings.readings, holdings.confirmed);
    if (holdings.last_act) {
        line += fmt::format("; last done: {}, {}", holdings.last_act->note.what,
                            moment_in_words(holdings.last_act->note.at));
    }
    return on_one_line(line);
}

void add_acts(const std::vector<store::HistoryEntry>& entries, const char* head,
              std::vector<std::string>& lines) {
    constexpr std::size_t most = 20;
    if (entries.empty()) return;
    lines.emplace_back(head);
    for (std::size_t at = 0; at < entries.size() && at < most; ++at) {
        const auto& note = entries[at].note;
        lines.push_back("  " + moment_in_words(note.at) + "  " + on_one_line(note.what));
    }
    if (entries.size() > most) {
        lines.push_back(fmt::format("  and {} earlier ones", entries.size() - most));
    }
}

}  // namespace

std::vector<std::string> lines_of(const RestorePlan& plan) {
    std::vector<std::string> lines{
        "now:  " + (plan.now ? line_of(*plan.now) : "nothing that can be read"),
        "then: " + line_of(plan.then)};
    add_acts(plan.lost, "no longer in the catalogue would be:", lines);
    add_acts(plan.regained, "in the catalogue again would be:", lines);
    return lines;
}

Result<std::optional<fs::path>> restore(const fs::path& from, const fs::path& catalogue,
                                        const Surroundings& surroundings,
                                        const std::function<bool(const RestorePlan&)>& agrees) {
    std::error_code not_there;
    if (fs::equivalent(from, catalogue, not_there)) {
        return problem("FILE", coilbook::quoted(from.string(), 300) + " is the catalogue itself",
                       "a backup of it");
    }
    if (is_exchange_file(from)) {
        return problem("FILE",
                       coilbook::quoted(from.string(), 300) + " is an exchange file, not a backup",
                       "a backup; 'coilbook exchange take-in' takes in an exchange file");
    }
    auto& progress = *surroundings.progress;
    progress.begin("Looking through the backup");
    const FolderToBe folder(catalogue);
    const StagedCopy staged(from, catalogue, ".restoring");
    const auto then = store::Catalogue::open(staged.file());
    if (const auto& copy = then.migrated().backup) fs::remove(*copy);
    for (const auto& inspection : then.audit([&](double part) { progress.reached(part); })) {
        if (inspection.wrong.empty() || !inspection.is_damage) continue;
        return problem("FILE",
                       fmt::format("{} is not sound: {}: {}", coilbook::quoted(from.string(), 300),
                                   inspection.what, inspection.wrong.front()),
                       "another backup");
    }
    auto now = opened(catalogue);
    RestorePlan plan{.now = {}, .then = holdings_of(then), .lost = {}, .regained = {}};
    if (now) {
        plan.now = holdings_of(*now);
        plan.lost = only_in(now->history().list(), then.history().list());
        plan.regained = only_in(then.history().list(), now->history().list());
    }
    if (!agrees(plan)) return problem("", "nothing was changed", "a yes to what would change");

    progress.begin("Going back to the backup");
    std::optional<fs::path> replaced = place_of_replaced(catalogue, surroundings.now());
    if (now) {
        now->back_up(*replaced);
        now->take_over(then);
        return replaced;
    }
    if (!fs::exists(fs::symlink_status(catalogue))) {
        replaced.reset();
    } else {
        for (const auto* ending : catalogue_endings) {
            if (!fs::exists(catalogue.string() + ending)) continue;
            fs::rename(catalogue.string() + ending, replaced->string() + ending);
        }
    }
    then.back_up(catalogue);
    return replaced;
}

}  // namespace coilbook::app
