#include "base/instant.h"

#include <fmt/format.h>

#include <charconv>

#include "base/text.h"

namespace coilbook {
namespace {

// Takes `digits` decimal digits off the front of `text`; -1 where there are not that many.
int take_number(std::string_view& text, std::size_t digits) {
    int value = 0;
    if (text.size() < digits) return -1;
    const char* end = text.data() + digits;
    const auto [stop, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || stop != end || value < 0) return -1;
    text.remove_prefix(digits);
    return value;
}

bool take(std::string_view& text, char expected) {
    if (text.empty() || text.front() != expected) return false;
    text.remove_prefix(1);
    return true;
}

}  // namespace

std::string to_text(Instant instant) {
    const auto day = std::chrono::floor<std::chrono::days>(instant);
    const std::chrono::year_month_day date{day};
    const std::chrono::hh_mm_ss time{instant - day};
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                       time.hours().count(), time.minutes().count(), time.seconds().count(),
                       time.subseconds().count());
}

Result<Instant> instant_from_text(std::string_view text) {
    const auto refuse = [written = text] {
        return problem("", quoted(written) + " is not a moment",
                       "one such as 2026-11-25T09:34:35Z");
    };
    const int year = take_number(text, 4);
    if (year < 1970 || !take(text, '-')) return refuse();
    const int month = take_number(text, 2);
    if (!take(text, '-')) return refuse();
    const int day = take_number(text, 2);
    if (!take(text, 'T')) return refuse();
    const int hour = take_number(text, 2);
    if (!take(text, ':')) return refuse();
    const int minute = take_number(text, 2);
    if (!take(text, ':')) return refuse();
    const int second = take_number(text, 2);
    int millisecond = 0;
    if (take(text, '.')) {
        for (const int weight : {100, 10, 1}) {
            const int digit = take_number(text, 1);
            if (digit < 0 && weight == 100) return refuse();
            if (digit < 0) break;
            millisecond += digit * weight;
        }
    }
    if (!take(text, 'Z') || !text.empty()) return refuse();
    if (month < 1 || day < 1 || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 ||
        second > 59) {
        return refuse();
    }
    const std::chrono::year_month_day date{std::chrono::year{year},
                                           std::chrono::month{static_cast<unsigned>(month)},
                                           std::chrono::day{static_cast<unsigned>(day)}};
    if (!date.ok()) return refuse();
    return Instant{std::chrono::sys_days{date} + std::chrono::hours{hour} +
                   std::chrono::minutes{minute} + std::chrono::seconds{second} +
                   std::chrono::milliseconds{millisecond}};
}

}  // namespace coilbook
