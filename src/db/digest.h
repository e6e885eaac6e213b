// A fingerprint of what was said to it: SHA-256, as hexadecimal digits.
//
// Each piece goes in with its length and kind, so that no two different series of pieces are the
// same bytes. It finds damage; it keeps nothing secret and stops nobody, since there is no key.
// Source: FIPS 180-4, computed by libcrypto.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

namespace coilbook::db {

class Digest {
  public:
    Digest();
    ~Digest();
    Digest(const Digest&) = delete;
    Digest& operator=(const Digest&) = delete;

    // Bytes as they are, without kind or length: what published test values are for.
    void add_raw(std::string_view bytes);

    void add_null();
    void add(std::int64_t number);
    void add(double number);  // its 64 bits: 0.1 + 0.2 and 0.3 differ
    void add(std::string_view text);
    void add_blob(std::string_view bytes);

    // 64 digits 0-9a-f. To be called once; nothing is added after it.
    [[nodiscard]] std::string finish();

  private:
    struct State;
    void add_number(char kind, std::uint64_t bits);
    std::unique_ptr<State> state_;
};

}  // namespace coilbook::db
