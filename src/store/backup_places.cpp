#include "store/backup_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <optional>
#include <set>

#include "base/error.h"
#include "base/instant.h"
#include "base/text.h"

namespace coilbook::store {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view ending = ".coilbook";

// The catalogue's name without its ending.
std::string stem_of(const fs::path& file) {
    auto name = file.filename().string();
    if (name.ends_with(ending) && name.size() > ending.size()) {
        name.resize(name.size() - ending.size());
    }
    return name;
}

std::optional<Day> day_from(std::string_view text) {
    if (text.size() != 10) return std::nullopt;
    const auto at = instant_from_text(std::string(text) + "T00:00:00Z");
    if (!at) return std::nullopt;
    return std::chrono::floor<std::chrono::days>(*at);
}

// Strikes from `days` the last one of each of the last `count` periods that have one.
template <class PeriodOf>
void keep(std::set<Day>& left, const std::vector<Day>& days, std::size_t count,
          PeriodOf period_of) {
    std::set<decltype(period_of(Day{}))> periods;
    for (const auto day : days) {
        if (periods.size() == count) return;
        if (periods.insert(period_of(day)).second) left.erase(day);
    }
}

}  // namespace

fs::path backup_folder_of(const fs::path& file) {
    return file.parent_path() / "backups";
}

fs::path make_backup_folder(const fs::path& file) {
    auto folder = backup_folder_of(file);
    std::error_code failed;
    if (fs::is_directory(folder, failed)) return folder;
    if (!fs::create_directory(folder, failed)) {
        throw Error(fmt::format("the folder {} cannot be made ({})",
                                coilbook::quoted(folder.string(), 300), failed.message()));
    }
    fs::permissions(folder, fs::perms::owner_all, failed);
    return folder;
}

fs::path backup_of(const fs::path& file, const std::string& mark) {
    return backup_folder_of(file) / fmt::format("{}.{}{}", stem_of(file), mark, ending);
}

std::string day_text(Day day) {
    return to_text(Instant(day)).substr(0, 10);
}

std::vector<Day> backup_days(const fs::path& file) {
    std::vector<Day> days;
    const auto before = stem_of(file) + ".";
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(backup_folder_of(file), none)) {
        const auto name = entry.path().filename().string();
        if (name.size() != before.size() + 10 + ending.size()) continue;
        if (!name.starts_with(before) || !name.ends_with(ending)) continue;
        if (const auto day = day_from(name.substr(before.size(), 10))) days.push_back(*day);
    }
    std::ranges::sort(days, std::greater{});
    return days;
}

std::vector<Day> superfluous(const std::vector<Day>& days) {
    std::set<Day> left(days.begin(), days.end());
    keep(left, days, 7, [](Day day) { return day; });
    keep(left, days, 4, [](Day day) {  // its Monday
        return day - (std::chrono::weekday(day) - std::chrono::Monday);
    });
    keep(left, days, 12, [](Day day) {
        const std::chrono::year_month_day date(day);
        return date.year() / date.month();
    });
    return {left.rbegin(), left.rend()};
}

}  // namespace coilbook::store
