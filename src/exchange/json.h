// JSON as the program writes it: keys keep their order, numbers read back as exactly the same
// number, a missing value is null. Only who looks into one needs <nlohmann/json.hpp>.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

namespace coilbook::exchange {

using Json = nlohmann::ordered_json;

// null for nothing, and for what JSON cannot say: infinite and not a number (RFC 8259, section 6).
[[nodiscard]] Json json_from(std::optional<double> number);
// null for nothing. Bytes that are no UTF-8 become U+FFFD when written.
[[nodiscard]] Json json_from(const std::optional<std::string>& text);

// On one line if `indent` is -1. Never throws for what a Json can hold.
[[nodiscard]] std::string to_text(const Json& json, int indent = -1);

}  // namespace coilbook::exchange
