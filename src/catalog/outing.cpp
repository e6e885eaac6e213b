#include "catalog/outing.h"

#include <fmt/format.h>

#include <charconv>

#include "base/text.h"

namespace coilbook {

std::string day_text(Day day) {
    const std::chrono::year_month_day date(day);
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

Result<Day> day_from(std::string_view text) {
    const auto date = trimmed(text);
    const auto number = [&](std::size_t at, std::size_t digits) {
        int value = -1;
        const char* const begin = date.data() + at;
        const auto [stop, error] = std::from_chars(begin, begin + digits, value);
        return error == std::errc{} && stop == begin + digits ? value : -1;
    };
    const bool has_form = date.size() == 10 && date[4] == '-' && date[7] == '-';
    const int year = has_form ? number(0, 4) : -1;
    const int month = has_form ? number(5, 2) : -1;
    const int day = has_form ? number(8, 2) : -1;
    const std::chrono::year_month_day found{std::chrono::year{year},
                                            std::chrono::month{static_cast<unsigned>(month)},
                                            std::chrono::day{static_cast<unsigned>(day)}};
    if (year < 1970 || month < 0 || day < 0 || !found.ok()) {
        return problem("day", coilbook::quoted(text) + " is not a day",
                       "year-month-day, such as 2026-06-14");
    }
    return Day(found);
}

}  // namespace coilbook
