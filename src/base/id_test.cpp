#include "base/id.h"

#include <doctest/doctest.h>

#include <type_traits>

#include "base/instant.h"

using namespace coilbook;

namespace {

struct Coil;
struct Reading;

Instant at(const char* text) {
    return instant_from_text(text).value();
}

}  // namespace

TEST_SUITE("Ids and moments") {
    // Source: RFC 3339, section 5.8, first and second example (from memory).
    TEST_CASE("a moment is written and read as RFC 3339 has it") {
        CHECK(to_text(at("1985-04-12T23:20:50.52Z")) == "1985-04-12T23:20:50.520Z");
        CHECK(at("1996-12-20T00:39:57Z").time_since_epoch() == std::chrono::seconds{851042397});
    }

    TEST_CASE("a moment that no calendar has is refused") {
        CHECK_FALSE(instant_from_text("2026-02-29T00:00:00Z").has_value());
        CHECK(instant_from_text("2028-02-29T00:00:00Z").has_value());
        CHECK_FALSE(instant_from_text("2026-11-25T24:00:00Z").has_value());
        CHECK_FALSE(instant_from_text("2026-11-25 09:00:00").has_value());
        CHECK_FALSE(instant_from_text("2026-11-25T09:00:00Zx").has_value());
        CHECK_FALSE(instant_from_text("+026-11-25T09:00:00Z").has_value());
        CHECK_FALSE(instant_from_text("").has_value());
    }

    TEST_CASE("an id holds all of its bits") {
        RandomBytes ones;
        ones.fill(0xFF);
        CHECK(id_text(Instant{std::chrono::milliseconds{0}}, RandomBytes{}) ==
              "00000000000000000000000000");
        CHECK(id_text(Instant{std::chrono::milliseconds{(1LL << 48) - 1}}, ones) ==
              "7ZZZZZZZZZZZZZZZZZZZZZZZZZ");
        RandomBytes last{};
        last[9] = 1;
        CHECK(id_text(Instant{std::chrono::milliseconds{32}}, last) ==
              "00000000100000000000000001");
    }

    TEST_CASE("an older id sorts before a younger one") {
        RandomBytes ones;
        ones.fill(0xFF);
        CHECK(Id<Coil>::make(at("2026-11-25T09:00:00Z"), ones) <
              Id<Coil>::make(at("2026-11-25T09:00:00.001Z"), RandomBytes{}));
    }

    TEST_CASE("the id of a coil is not the id of a reading") {
        static_assert(!std::is_convertible_v<Id<Coil>, Id<Reading>>);
        static_assert(!std::is_constructible_v<Id<Reading>, Id<Coil>>);
        CHECK(Id<Coil>::from_text("01J0000000000000000000000Z").has_value());
        CHECK_FALSE(Id<Coil>::from_text("01J").has_value());
        CHECK_FALSE(Id<Coil>::from_text("01J000000000000000000000UL").has_value());
    }
}
