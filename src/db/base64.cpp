#include "db/base64.h"

#include <openssl/evp.h>

#include <algorithm>

namespace coilbook::db {
namespace {

const unsigned char* bytes_in(std::string_view text) {
    return reinterpret_cast<const unsigned char*>(text.data());
}
unsigned char* bytes_in(std::string& text) {
    return reinterpret_cast<unsigned char*>(text.data());
}

}  // namespace

std::string base64_of(std::string_view bytes) {
    std::string text((bytes.size() + 2) / 3 * 4 + 1, '\0');  // and the zero at its end
    EVP_EncodeBlock(bytes_in(text), bytes_in(bytes), static_cast<int>(bytes.size()));
    text.pop_back();
    return text;
}

std::optional<std::string> bytes_from_base64(std::string_view text) {
    std::string bytes(text.size() / 4 * 3, '\0');
    const auto filled = text.size() - std::min(text.size(), text.find_last_not_of('=') + 1);
    if (text.size() % 4 != 0 || filled > 2) return std::nullopt;
    if (EVP_DecodeBlock(bytes_in(bytes), bytes_in(text), static_cast<int>(text.size())) !=
        static_cast<int>(bytes.size())) {
        return std::nullopt;
    }
    bytes.resize(bytes.size() - filled);
    // The library also takes blanks around the text, and bits that nothing stands for.
    if (base64_of(bytes) != text) return std::nullopt;
    return bytes;
}

}  // namespace coilbook::db
