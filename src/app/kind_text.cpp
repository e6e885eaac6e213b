#include "app/kind_text.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>

#include "base/id.h"
#include "base/instant.h"
#include "base/text.h"
#include "db/base64.h"
#include "quantity/print.h"
#include "store/rows.h"

namespace coilbook::app {
namespace {

using enum store::ColumnType;

template <class Number>
std::optional<Number> whole_number(std::string_view text) {
    Number number{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return number;
}

std::optional<double> number_in(std::string_view text, char decimal_mark) {
    std::string with_point(text);
    if (decimal_mark == ',' && std::ranges::count(text, ',') == 1 &&
        text.find('.') == std::string_view::npos) {
        std::ranges::replace(with_point, ',', '.');
    }
    const auto number = whole_number<double>(with_point);
    return number && std::isfinite(*number) ? number : std::nullopt;
}

// Base64 as many programs write it: broken into lines, perhaps set in.
std::string without_blanks(std::string_view text) {
    std::string rest(text);
    std::erase_if(rest, [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; });
    return rest;
}

std::string number_text(const Cell& cell) {
    if (const auto* real = std::get_if<double>(&cell)) return exact(*real);
    if (const auto* integer = std::get_if<std::int64_t>(&cell)) return std::to_string(*integer);
    return "";
}

}  // namespace

Result<db::Value> value_from(const store::KindColumn& column, std::string_view text,
                             const exchange::RecordsHead& head) {
    const auto refuse = [&](const char* what, const char* expected) {
        return problem(std::string(column.name), coilbook::quoted(text) + what, expected);
    };
    const auto bare = trimmed(text);
    switch (column.type) {
        case id:
            if (!is_id_text(bare)) return refuse(" is not an id", "26 capital letters and digits");
            return std::string(bare);
        case store::ColumnType::text: {
            auto words = head.format == exchange::RecordFormat::csv ? exchange::unguarded(text)
                                                                    : std::string(text);
            const auto plain = store::check_plain(column.name, words);
            if (!plain) return tl::unexpected(plain.error());
            return words;
        }
        case moment: {
            const auto at = instant_from_text(bare);
            if (!at) return refuse(" is no moment", "one such as 2026-11-25T09:34:35.120Z");
            return to_text(*at);
        }
        case number:
            if (const auto found = number_in(bare, head.decimal_mark)) return *found;
            return refuse(" is no number", "a finite number");
        case count:
            if (const auto found = whole_number<std::int64_t>(bare)) return *found;
            return refuse(" is no whole number", "a whole number");
        case flag: {
            const auto word = lower_ascii(bare);
            if (word == "yes" || word == "true") return std::int64_t{1};
            if (word == "no" || word == "false") return std::int64_t{0};
            return refuse(" is neither yes nor no", "yes or no");
        }
        case picture:
            if (auto bytes = db::bytes_from_base64(without_blanks(bare))) return std::move(*bytes);
            return refuse(" is no base64 (RFC 4648, with its padding)",
                          "the bytes of a PNG or JPEG file in base64, with nothing before them");
    }
    return problem(std::string(column.name), "the column cannot be read", "another column");
}

Cell cell_from(const store::KindColumn& column, const db::Value& value, Format format) {
    if (const auto* words = std::get_if<std::string>(&value)) {
        if (column.type == picture) return cell_of(db::base64_of(*words));
        const bool is_guarded = format == Format::csv && column.type == store::ColumnType::text;
        return cell_of(is_guarded ? exchange::guarded(*words) : *words);
    }
    if (const auto* real = std::get_if<double>(&value)) return cell_of(std::optional(*real));
    if (const auto* integer = std::get_if<std::int64_t>(&value)) {
        if (column.type == flag) return std::string(*integer != 0 ? "yes" : "no");
        return *integer;
    }
    return {};
}

std::string written(const store::KindColumn& column, const db::Value& value) {
    const auto cell = cell_from(column, value, Format::csv);
    const auto* words = std::get_if<std::string>(&cell);
    return words ? *words : number_text(cell);
}

std::string shown(const store::KindColumn& column, const db::Value& value) {
    if (const auto* bytes = std::get_if<std::string>(&value); bytes && column.type == picture) {
        return "a picture of " + std::to_string(bytes->size()) + " bytes";
    }
    const auto cell = cell_from(column, value, Format::json);
    if (std::holds_alternative<std::monostate>(cell)) return "nothing";
    const auto* words = std::get_if<std::string>(&cell);
    return words ? coilbook::quoted(*words) : number_text(cell);
}

}  // namespace coilbook::app
