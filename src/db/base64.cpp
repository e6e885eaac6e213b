#include "db/base64.h"

#include <sodium.h>

namespace coilbook::db {

std::string base64_of(std::string_view bytes) {
    std::string text(sodium_base64_encoded_len(bytes.size(), sodium_base64_VARIANT_ORIGINAL), '\0');
    sodium_bin2base64(text.data(), text.size(),
                      reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
                      sodium_base64_VARIANT_ORIGINAL);
    text.pop_back();  // the zero at its end
    return text;
}

std::optional<std::string> bytes_from_base64(std::string_view text) {
    std::string bytes(text.size() / 4 * 3 + 3, '\0');
    std::size_t length = 0;
    const char* end = nullptr;
    const int failed = sodium_base642bin(reinterpret_cast<unsigned char*>(bytes.data()),
                                         bytes.size(), text.data(), text.size(), nullptr, &length,
                                         &end, sodium_base64_VARIANT_ORIGINAL);
    if (failed != 0 || end != text.data() + text.size()) return std::nullopt;
    bytes.resize(length);
    return bytes;
}

}  // namespace coilbook::db
