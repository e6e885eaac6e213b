#include "app/backups.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <sstream>
#include <tuple>

#include "app/check_catalogue.h"
#include "app/custody.h"
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

bool has_backup_of(const fs::path& file, store::Day day) {
    return fs::exists(store::backup_of(file, store::day_text(day)));
}

constexpr std::uintmax_t small_file = 16 * 1024 * 1024;   // looked at in a fraction of a second
constexpr std::uintmax_t large_file = 256 * 1024 * 1024;  // looked at in some ten seconds

std::uintmax_t size_of(const fs::path& file) {
    std::error_code none;
    const auto size = fs::file_size(file, none);
    return none ? 0 : size;
}

// Why nothing should be written into this catalogue; empty where it is sound.
std::string damage_of(const store::Catalogue& catalogue, Progress& progress) {
    progress.begin("Looking through the catalogue before its first change");
    const auto reached = [&](double part) { progress.reached(part); };
    for (const auto& inspection : catalogue.audit(reached)) {
        if (inspection.wrong.empty() || !inspection.is_damage) continue;
        return fmt::format(
            "{} is damaged, and nothing more is written into it ({}: {}); 'coilbook check' tells "
            "more, 'coilbook restore' goes back to a backup, 'coilbook salvage' makes a sound "
            "catalogue of what can be read",
            coilbook::quoted(catalogue.file().string(), 300), inspection.what,
            inspection.wrong.front());
    }
    return "";
}

void back_up_once_a_day(const store::Catalogue& catalogue, store::Day today, Progress& progress) {
    const auto target = store::backup_of(catalogue.file(), store::day_text(today));
    if (has_backup_of(catalogue.file(), today)) return;
    store::make_backup_folder(catalogue.file());
    progress.begin("Today's backup, before the first change");
    catalogue.back_up(target, [&](double part) { progress.reached(part); });
    thin_out(catalogue.file());
}

// "Confirm 3 coils: A1, A2, A3".
std::string as_a_heading(std::string what) {
    if ('a' <= what[0] && what[0] <= 'z') what[0] = static_cast<char>(what[0] - 'a' + 'A');
    return what;
}

}  // namespace

void care_for_day(const store::Catalogue& catalogue, std::chrono::sys_days today,
                  Progress& progress) {
    if (!catalogue.why_read_only().empty() || has_backup_of(catalogue.file(), today)) return;
    const bool is_looked_at = size_of(catalogue.file()) <= large_file;
    if (is_looked_at && !damage_of(catalogue, progress).empty()) return;
    back_up_once_a_day(catalogue, today, progress);
}

void keep_daily_backups(store::Catalogue& catalogue, const Surroundings& surroundings,
                        const std::shared_ptr<std::function<void()>>& wait) {
    if (catalogue.file().empty() || !catalogue.why_read_only().empty()) return;
    const auto done_on = std::make_shared<store::Day>();
    const auto damage = std::make_shared<std::optional<std::string>>();  // once looked at
    catalogue.before_each_act(
        [done_on, damage, wait, warn = surroundings.warn, progress = surroundings.progress](
            const store::Catalogue& now, const store::ActNote& note) {
            const auto today = std::chrono::floor<std::chrono::days>(note.at);
            const auto size = size_of(now.file());
            if (*done_on != today && *wait) (*wait)();
            const bool is_first_of_day = *done_on != today && !has_backup_of(now.file(), today);
            if ((is_first_of_day && size <= large_file) || (!*damage && size <= small_file)) {
                *damage = damage_of(now, *progress);
            }
            if (*damage && !(*damage)->empty()) throw Error(**damage);
            if (*done_on != today) {
                try {
                    back_up_once_a_day(now, today, *progress);
                } catch (const std::exception& error) {
                    if (warn) warn(std::string("today's backup was not made: ") + error.what());
                }
                *done_on = today;
            }
            progress->begin(as_a_heading(note.what));
        });
}

std::string moment_in_words(Instant at) {
    return minute_of(at) + " UTC";
}

std::string moment_in_name(Instant at) {
    auto text = to_text(at).substr(0, 19);  // "2026-11-25T09:34:35"
    text[10] = '-';
    std::erase(text, ':');
    return text;
}

std::optional<fs::path> back_up_before(Workshop& workshop, std::string_view what) {
    const auto& catalogue = workshop.catalogue();
    if (catalogue.file().empty()) return std::nullopt;
    const auto base =
        fmt::format("{}-before-{}", moment_in_name(workshop.surroundings().now()), what);
    auto place = store::backup_of(catalogue.file(), base);
    for (int n = 2; fs::exists(place); ++n) {
        place = store::backup_of(catalogue.file(), fmt::format("{}-{}", base, n));
    }
    store::make_backup_folder(catalogue.file());
    catalogue.back_up(place);
    return place;
}

std::vector<BackupThere> backups_there(Workshop& workshop) {
    const auto& catalogue = workshop.catalogue().file();
    std::vector<BackupThere> all;
    if (catalogue.empty()) return all;
    const auto beginning = catalogue.stem().string() + ".";
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(store::backup_folder_of(catalogue), none)) {
        const auto& file = entry.path();
        const bool is_of_it = file.filename().string().starts_with(beginning) &&
                              file.extension() == catalogue.extension();
        if (!is_of_it || !entry.is_regular_file(none)) continue;
        const auto written = std::chrono::file_clock::to_sys(entry.last_write_time(none));
        all.push_back(
            {file, std::chrono::floor<Instant::duration>(written), entry.file_size(none)});
    }
    std::ranges::sort(all, [](const auto& one, const auto& other) {
        return std::tie(one.written_at, one.file) > std::tie(other.written_at, other.file);
    });
    return all;
}

Result<Backup> back_up(Workshop& workshop, const std::optional<fs::path>& target) {
    const auto& catalogue = workshop.catalogue();
    const auto file =
        target ? *target
               : store::backup_of(catalogue.file(), moment_in_name(workshop.surroundings().now()));
    if (fs::exists(fs::symlink_status(file))) {
        return problem("FILE", coilbook::quoted(file.string(), 300) + " exists already",
                       "another name");
    }
    if (!target) store::make_backup_folder(catalogue.file());
    auto& progress = workshop.progress();
    progress.begin("Copying the catalogue");
    {
        const auto breakable = catalogue.breaks_off_when_unwanted();
        catalogue.back_up(file, [&](double part) { progress.reached(part); });
    }
    progress.begin("Looking through the copy");
    std::ostringstream faults;
    return Backup{file, check_catalogue(file, faults, Format::csv)};
}

}  // namespace coilbook::app
