#include "app/backups.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <sstream>

#include "app/check_catalogue.h"
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
std::string damage_of(const store::Catalogue& catalogue) {
    for (const auto& inspection : catalogue.audit()) {
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

void back_up_once_a_day(const store::Catalogue& catalogue, store::Day today) {
    const auto target = store::backup_of(catalogue.file(), store::day_text(today));
    if (has_backup_of(catalogue.file(), today)) return;
    store::make_backup_folder(catalogue.file());
    catalogue.back_up(target);
    thin_out(catalogue.file());
}

}  // namespace

void keep_daily_backups(store::Catalogue& catalogue, std::function<void(const std::string&)> warn) {
    if (catalogue.file().empty() || !catalogue.why_read_only().empty()) return;
    const auto done_on = std::make_shared<store::Day>();
    const auto damage = std::make_shared<std::optional<std::string>>();  // once looked at
    catalogue.before_each_act([done_on, damage, warn = std::move(warn)](
                                  const store::Catalogue& now, const store::ActNote& note) {
        const auto today = std::chrono::floor<std::chrono::days>(note.at);
        const auto size = size_of(now.file());
        const bool is_first_of_day = *done_on != today && !has_backup_of(now.file(), today);
        if ((is_first_of_day && size <= large_file) || (!*damage && size <= small_file)) {
            *damage = damage_of(now);
        }
        if (*damage && !(*damage)->empty()) throw Error(**damage);
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
    catalogue.back_up(file);
    std::ostringstream faults;
    return Backup{file, check_catalogue(file, faults, Format::csv)};
}

}  // namespace coilbook::app
