// What the repositories share: cells of a row that are ids, moments and names.
//
// What this program wrote can be read again; a cell that cannot is damage, and an Error.
#pragma once

#include <string>
#include <string_view>

#include "base/error.h"
#include "base/id.h"
#include "base/instant.h"
#include "base/result.h"
#include "db/statement.h"

namespace coilbook::store {

// A part of a long list: at most `limit` entries, after the first `offset`.
struct Page {
    int limit = 1'000'000;
    int offset = 0;
};

// The value, or an Error that says in which column the catalogue is damaged.
template <class T>
[[nodiscard]] T kept(Result<T> value, std::string_view column) {
    if (value) return std::move(*value);
    throw Error("the catalogue is damaged in the column " + std::string(column) + ": " +
                to_line(value.error()));
}

template <class Thing>
[[nodiscard]] Id<Thing> id_at(const db::Row& row, std::string_view column) {
    return kept(Id<Thing>::from_text(row.text(column)), column);
}
template <class Thing>
[[nodiscard]] std::optional<Id<Thing>> optional_id_at(const db::Row& row, std::string_view column) {
    if (row.is_null(column)) return std::nullopt;
    return id_at<Thing>(row, column);
}

[[nodiscard]] Instant instant_at(const db::Row& row, std::string_view column);
[[nodiscard]] bool flag_at(const db::Row& row, std::string_view column);
[[nodiscard]] int count_at(const db::Row& row, std::string_view column);

// A Problem where `text`, which a person wrote into `field`, cannot be kept as it is.
[[nodiscard]] Result<void> check_plain(std::string_view field, std::string_view text);

}  // namespace coilbook::store
