#include "exchange/json.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace coilbook::exchange {

Json json_from(std::optional<double> number) {
    if (!number || !std::isfinite(*number)) return nullptr;
    return *number;
}

Json json_from(const std::optional<std::string>& text) {
    if (!text) return nullptr;
    return *text;
}

std::string to_text(const Json& json, int indent) {
    return json.dump(indent, ' ', false, Json::error_handler_t::replace);
}

}  // namespace coilbook::exchange
