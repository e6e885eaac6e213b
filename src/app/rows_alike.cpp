#include "app/rows_alike.h"

#include <algorithm>
#include <charconv>

#include "base/id.h"
#include "base/instant.h"
#include "db/digest.h"
#include "store/picture_repository.h"

namespace coilbook::app {
namespace {

using store::ColumnType;
using store::ColumnUse;

bool is_missing(const db::Value& value) {
    return std::holds_alternative<std::monostate>(value);
}

void add(db::Digest& digest, const db::Value& value, ColumnType type) {
    if (const auto* number = std::get_if<double>(&value)) {
        digest.add(*number);
    } else if (const auto* whole = std::get_if<std::int64_t>(&value)) {
        type == ColumnType::number ? digest.add(static_cast<double>(*whole)) : digest.add(*whole);
    } else if (const auto* text = std::get_if<std::string>(&value)) {
        digest.add(type == ColumnType::picture ? store::digest_of_picture(*text) : *text);
    } else {
        digest.add_null();
    }
}

// The last moment that the row tells, or one long ago.
Instant moment_in(const store::Kind& kind, const store::KindRow& row) {
    auto at = instant_from_text("2000-01-01T00:00:00Z").value();
    for (std::size_t i = 0; i < row.size(); ++i) {
        const auto* text = std::get_if<std::string>(&row[i]);
        if (text == nullptr || kind.columns[i].type != ColumnType::moment) continue;
        at = instant_from_text(*text).value_or(at);
    }
    return at;
}

}  // namespace

// Whether the row says nothing in that column, and the import will.
bool RowsAlike::is_open(std::size_t column, const store::KindRow& row) const {
    const auto& [name, type, may_be_missing, use] = table_.kind().columns[column];
    if (!is_missing(row[column])) return false;
    return use == ColumnUse::derived || use == ColumnUse::counted ||
           (type == ColumnType::moment && !may_be_missing);
}

std::string RowsAlike::said(const store::KindRow& row, const Columns& open) const {
    db::Digest digest;
    for (std::size_t i = 0; i < row.size(); ++i) {
        const auto& column = table_.kind().columns[i];
        if (store::is_kept(column.use) && !open[i]) add(digest, row[i], column.type);
    }
    return digest.finish();
}

// Of rows that say the same, as they stand in the catalogue now.
const RowsAlike::Ids& RowsAlike::ids_of(const Columns& open) {
    const auto [at, is_new] = by_open_.try_emplace(open);
    if (!is_new) return at->second;
    table_.each([&](const store::KindRow& row) {
        at->second[said(row, open)].push_back(std::get<std::string>(row.front()));
    });
    return at->second;
}

std::optional<std::string> RowsAlike::next_id(const store::KindRow& row) {
    Columns open(row.size());
    bool is_whole = true;
    for (std::size_t i = 0; i < row.size(); ++i) {
        open[i] = is_open(i, row);
        if (open[i] && table_.kind().columns[i].use != ColumnUse::derived) is_whole = false;
    }
    const auto content = said(row, open);
    const auto before = times_[content]++;
    const auto& ids = ids_of(open);
    const auto found = ids.find(content);
    if (found != ids.end() && before < found->second.size()) return found->second[before];
    if (!is_whole) return std::nullopt;
    db::Digest numbered;
    numbered.add(content);
    numbered.add(static_cast<std::int64_t>(before));
    const auto name = numbered.finish();
    RandomBytes bytes{};
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        std::from_chars(name.data() + 2 * i, name.data() + 2 * i + 2, bytes[i], 16);
    }
    return id_text(moment_in(table_.kind(), row), bytes);
}

}  // namespace coilbook::app
