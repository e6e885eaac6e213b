#include "bench/shell/options.h"

#include <doctest/doctest.h>

#include <vector>

#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

Result<Options> read(std::vector<std::string_view> arguments) {
    return read_options(arguments);
}

}  // namespace

TEST_SUITE("Starting the window") {
    TEST_CASE("without arguments the default catalogue opens, and nothing is said of its looks") {
        const auto options = read({});
        REQUIRE(options);
        CHECK_FALSE(options->catalogue);
        CHECK_FALSE(options->scale);
        CHECK_FALSE(options->theme);
        CHECK_FALSE(options->size);
    }

    TEST_CASE("everything that can be told") {
        const auto options = read({"--theme", "dark", "--scale", "1.5", "--size", "1280x720",
                                   "--screenshot", "a.png", "bin.coilbook"});
        REQUIRE(options);
        CHECK(options->theme == ThemeName::dark);
        CHECK(near(*options->scale, 1.5, 1e-6));
        CHECK(options->size == WindowSize{1280, 720});
        CHECK(*options->screenshot == "a.png");
        CHECK(*options->catalogue == "bin.coilbook");
    }

    TEST_CASE("what is wrong is named with its option") {
        CHECK(read({"--theme", "blue"}).error().field == "--theme");
        CHECK(read({"--scale", "0"}).error().field == "--scale");
        CHECK(read({"--scale", "nan"}).error().field == "--scale");
        CHECK(read({"--size", "1280"}).error().field == "--size");
        CHECK(read({"--size", "1x1"}).error().field == "--size");
        CHECK(read({"--size", "1280x720x3"}).error().field == "--size");
        CHECK(read({"--screenshot"}).error().field == "--screenshot");
        CHECK_FALSE(read({"--frobnicate"}));
        CHECK_FALSE(read({"a.coilbook", "b.coilbook"}));
    }

    TEST_CASE("help and version come before everything else") {
        CHECK(read({"--help"})->wish == Options::Wish::help);
        CHECK(read({"--version", "--theme"})->wish == Options::Wish::version);
    }
}
