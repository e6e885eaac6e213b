// Bytes as text: base64 with padding. Source: RFC 4648, section 4.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace coilbook::db {

[[nodiscard]] std::string base64_of(std::string_view bytes);
// The bytes; nothing for what is no such text.
[[nodiscard]] std::optional<std::string> bytes_from_base64(std::string_view text);

}  // namespace coilbook::db
