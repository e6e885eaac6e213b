#include "store/rows.h"

#include "base/text.h"

namespace coilbook::store {

Instant instant_at(const db::Row& row, std::string_view column) {
    return kept(instant_from_text(row.text(column)), column);
}

bool flag_at(const db::Row& row, std::string_view column) {
    return row.integer(column) != 0;
}

int count_at(const db::Row& row, std::string_view column) {
    return static_cast<int>(row.integer(column));
}

Result<void> check_plain(std::string_view field, std::string_view text) {
    constexpr std::size_t longest = 100'000;
    if (!is_plain_text(text)) {
        return problem(std::string(field), coilbook::quoted(text) + " has bytes that are no text",
                       "text in UTF-8");
    }
    if (text.size() > longest) {
        return problem(std::string(field), "this is " + std::to_string(text.size()) + " bytes long",
                       "at most 100000 bytes");
    }
    return {};
}

}  // namespace coilbook::store
