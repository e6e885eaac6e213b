#include "db/digest.h"

#include <sodium.h>

#include <array>
#include <bit>

namespace coilbook::db {

struct Digest::State {
    crypto_hash_sha256_state hash;
};

namespace {

// The eight bytes of a number, the highest first, whatever the machine.
std::string bytes_of(std::uint64_t bits) {
    std::string bytes(8, '\0');
    for (std::size_t at = 0; at < 8; ++at) bytes[7 - at] = static_cast<char>(bits >> (8 * at));
    return bytes;
}

}  // namespace

Digest::Digest() : state_(std::make_unique<State>()) {
    crypto_hash_sha256_init(&state_->hash);
}
Digest::~Digest() = default;

void Digest::add_raw(std::string_view bytes) {
    crypto_hash_sha256_update(&state_->hash, reinterpret_cast<const unsigned char*>(bytes.data()),
                              bytes.size());
}

void Digest::add_number(char kind, std::uint64_t bits) {
    add_raw(std::string_view(&kind, 1));
    add_raw(bytes_of(bits));
}

void Digest::add_null() {
    add_raw("n");
}

void Digest::add(std::int64_t number) {
    add_number('i', static_cast<std::uint64_t>(number));
}

void Digest::add(double number) {
    add_number('r', std::bit_cast<std::uint64_t>(number));
}

void Digest::add(std::string_view text) {
    add_number('t', text.size());
    add_raw(text);
}

void Digest::add_blob(std::string_view bytes) {
    add_number('b', bytes.size());
    add_raw(bytes);
}

std::string Digest::finish() {
    std::array<unsigned char, crypto_hash_sha256_BYTES> hash{};
    crypto_hash_sha256_final(&state_->hash, hash.data());
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text;
    for (const unsigned char byte : hash) {
        text += digits[byte >> 4U];
        text += digits[byte & 0xFU];
    }
    return text;
}

}  // namespace coilbook::db
