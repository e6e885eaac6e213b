#include "db/digest.h"

#include <openssl/evp.h>

#include <array>
#include <bit>

#include "base/error.h"

namespace coilbook::db {
namespace {

// Small pieces are gathered to so many bytes, since each call of the library costs something.
constexpr std::size_t most_gathered = 4096;

void check(int is_done) {
    if (is_done != 1) throw Error("the cryptographic library cannot make a fingerprint");
}

}  // namespace

struct Digest::State {
    State() { gathered.reserve(2 * most_gathered); }
    ~State() { EVP_MD_CTX_free(hash); }
    State(const State&) = delete;
    State& operator=(const State&) = delete;

    EVP_MD_CTX* hash = EVP_MD_CTX_new();
    std::string gathered;

    void pass_on() {
        check(EVP_DigestUpdate(hash, gathered.data(), gathered.size()));
        gathered.clear();
    }
};

Digest::Digest() : state_(std::make_unique<State>()) {
    check(EVP_DigestInit_ex(state_->hash, EVP_sha256(), nullptr));
}
Digest::~Digest() = default;

void Digest::add_raw(std::string_view bytes) {
    if (bytes.size() < most_gathered) {
        state_->gathered += bytes;
        if (state_->gathered.size() >= most_gathered) state_->pass_on();
    } else {
        state_->pass_on();
        check(EVP_DigestUpdate(state_->hash, bytes.data(), bytes.size()));
    }
}

// The eight bytes of a number, the highest first, whatever the machine.
void Digest::add_number(char kind, std::uint64_t bits) {
    std::array<char, 9> bytes{kind};
    for (std::size_t at = 0; at < 8; ++at) bytes[8 - at] = static_cast<char>(bits >> (8 * at));
    add_raw(std::string_view(bytes.data(), bytes.size()));
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
    state_->pass_on();
    std::array<unsigned char, EVP_MAX_MD_SIZE> hash{};
    unsigned size = 0;
    check(EVP_DigestFinal_ex(state_->hash, hash.data(), &size));
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text;
    for (unsigned at = 0; at < size; ++at) {
        text += digits[hash[at] >> 4U];
        text += digits[hash[at] & 0xFU];
    }
    return text;
}

}  // namespace coilbook::db
