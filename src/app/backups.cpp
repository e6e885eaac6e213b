#include "app/backups.h"

#include <algorithm>
#include <memory>

#include "base/text.h"
#include "store/backup_places.h"

namespace coilbook::app {
namespace {

namespace fs = std::filesystem;

void thin_out(const fs::path& file) {
    for (const auto day : store::superfluous(store::backup_days(file))) {
        std::error_code none;  // one that stays is no harm
        fs::remove(store::backup_of(file, store::day_text(day)), none);
    }
}

void back_up_once_a_day(const store::Catalogue& catalogue, store::Day today) {
    const auto target = store::backup_of(catalogue.file(), store::day_text(today));
    if (fs::exists(target)) return;
    store::make_backup_folder(catalogue.file());
    catalogue.back_up(target);
    thin_out(catalogue.file());
}

}  // namespace

void keep_daily_backups(store::Catalogue& catalogue, std::function<void(const std::string&)> warn) {
    if (catalogue.file().empty() || !catalogue.why_read_only().empty()) return;
    const auto done_on = std::make_shared<store::Day>();
    catalogue.before_each_act(
        [done_on, warn = std::move(warn)](const store::Catalogue& now, const store::ActNote& note) {
            const auto today = std::chrono::floor<std::chrono::days>(note.at);
            if (*done_on == today) return;
            *done_on = today;
            try {
                back_up_once_a_day(now, today);
            } catch (const std::exception& error) {
                if (warn) warn(std::string("today's backup was not made: ") + error.what());
            }
        });
}

std::string moment_in_name(Instant at) {
    auto text = to_text(at).substr(0, 19);  // "2026-11-25T09:34:35"
    text[10] = '-';
    std::erase(text, ':');
    return text;
}

Result<fs::path> back_up(Workshop& workshop, const std::optional<fs::path>& target) {
    const auto& catalogue = workshop.catalogue();
    const auto file =
        target ? *target
               : store::backup_of(catalogue.file(), moment_in_name(workshop.surroundings().now()));
    if (fs::exists(fs::symlink_status(file))) {
        return problem("FILE", coilbook::quoted(file.string(), 300) + " exists already",
                       "another name");
    }
    if (!target) store::make_backup_folder(catalogue.file());
    catalogue.back_up(file);
    return file;
}

}  // namespace coilbook::app
