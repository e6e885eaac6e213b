#include "store/backup_places.h"

#include <algorithm>

#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

Day day(const std::string& text) {
    return std::chrono::floor<std::chrono::days>(instant_from_text(text + "T00:00:00Z").value());
}

std::vector<std::string> texts(const std::vector<Day>& days) {
    std::vector<std::string> found;
    for (const auto each : days) found.push_back(day_text(each));
    return found;
}

}  // namespace

TEST_SUITE("Where backups lie") {
    TEST_CASE("beside the catalogue, by its name and a mark") {
        CHECK(backup_of("/bin/a.coilbook", "v1") == "/bin/backups/a.v1.coilbook");
        CHECK(backup_of("/bin/odd", "2026-11-25") == "/bin/backups/odd.2026-11-25.coilbook");
    }

    TEST_CASE("only files named just so count as daily ones, and only this catalogue's") {
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        CHECK(backup_days(file).empty());
        make_backup_folder(file);
        CHECK(fs::status(folder / "backups").permissions() == fs::perms::owner_all);
        for (const char* name : {"a.2026-11-25.coilbook", "a.2026-11-03.coilbook", "a.v1.coilbook",
                                 "a.2026-13-01.coilbook", "b.2026-11-24.coilbook",
                                 "a.2026-11-24.coilbook.tmp", "a.2026-11-2x.coilbook"}) {
            write_bytes(folder / "backups" / name, "");
        }
        CHECK(texts(backup_days(file)) == std::vector<std::string>{"2026-11-25", "2026-11-03"});
    }
}

TEST_SUITE("Which backups are kept") {
    TEST_CASE("seven days, four weeks, twelve months") {
        // A copy every day of 2025 and 2026 up to 25 November, a Wednesday.
        std::vector<Day> days;
        for (auto each = day("2026-11-25"); each >= day("2025-01-01");
             each -= std::chrono::days{1}) {
            days.push_back(each);
        }
        const auto gone = superfluous(days);
        std::vector<std::string> kept;
        for (const auto each : days) {
            if (std::ranges::find(gone, each) == gone.end()) kept.push_back(day_text(each));
        }
        CHECK(kept == std::vector<std::string>{
                          // The week of the 25th, its seven days, and three Sundays before:
                          "2026-11-25", "2026-11-24", "2026-11-23", "2026-11-22", "2026-11-21",
                          "2026-11-20", "2026-11-19", "2026-11-15", "2026-11-08",
                          // The ends of the months before:
                          "2026-10-31", "2026-09-30", "2026-08-31", "2026-07-31", "2026-06-30",
                          "2026-05-31", "2026-04-30", "2026-03-31", "2026-02-28", "2026-01-31",
                          "2025-12-31"});
    }

    TEST_CASE("thinned out day by day, it comes to the same") {
        std::vector<Day> days;
        for (auto today = day("2025-01-01"); today <= day("2026-11-25");
             today += std::chrono::days{1}) {
            days.insert(days.begin(), today);
            for (const auto gone : superfluous(days)) std::erase(days, gone);
        }
        CHECK(days.size() == 20);
        CHECK(day_text(days.back()) == "2025-12-31");
    }

    TEST_CASE("who works seldom keeps the last ones, however old") {
        std::vector<Day> days;
        for (int year = 2026; year > 2016; --year)
            days.push_back(day(std::to_string(year) + "-06-01"));
        CHECK(superfluous(days).empty());
        CHECK(superfluous({}).empty());
    }
}
