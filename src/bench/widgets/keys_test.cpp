#include "bench/widgets/keys.h"

#include <doctest/doctest.h>

using namespace coilbook::bench;

TEST_SUITE("Keys by name") {
    TEST_CASE("a key is told with what is held with it") {
        CHECK(name_of(control(key::enter)) == "Ctrl Enter");
        CHECK(name_of(control_shift('Z')) == "Ctrl Shift Z");
        CHECK(name_of(alt('2')) == "Alt 2");
        CHECK(name_of(plain(key::f1)) == "F1");
        CHECK(name_of(plain(key::f9)) == "F9");
        CHECK(name_of(control(key::down)) == "Ctrl ↓");
    }
}
