#include "app/window_memory.h"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <fstream>

#include "support/temporary_folder.h"

using namespace coilbook;
using namespace coilbook::app;

TEST_SUITE("What the window remembers") {
    TEST_CASE("is the same at the next start, and nobody else's business") {
        const TemporaryFolder folder;
        const auto file = folder / "config/coilbook/window.json";
        const WindowMemory memory{1600, 900, true, 1.25, true, "grams and metres"};
        REQUIRE(write_window_memory(file, memory));
        CHECK(read_window_memory(file) == memory);
        struct stat about {};
        REQUIRE(::stat(file.c_str(), &about) == 0);
        CHECK((about.st_mode & 0077) == 0);
        REQUIRE(write_window_memory(file, {}));
        CHECK(read_window_memory(file) == WindowMemory{});
    }

    TEST_CASE("what makes no sense in the file is as if it were not there") {
        const TemporaryFolder folder;
        const auto file = folder / "window.json";
        CHECK(read_window_memory(file) == WindowMemory{});
        for (const char* text :
             {"", "{", "[1]", "nonsense", R"({"width": "wide", "height": -3, "scale": 1e300})",
              R"({"width": 5, "dark": 1, "large": "yes", "units": 3})"}) {
            CAPTURE(text);
            std::ofstream(file) << text;
            CHECK(read_window_memory(file) == WindowMemory{});
        }
        std::ofstream(file) << R"({"width": 1600, "height": 10, "dark": true})";
        const auto memory = read_window_memory(file);
        CHECK(memory.width == 1600);
        CHECK_FALSE(memory.height);
        CHECK(memory.is_dark == true);
    }

    TEST_CASE("where it cannot be written nothing breaks") {
        CHECK_FALSE(write_window_memory("/proc/nowhere/window.json", {}));
        const TemporaryFolder folder;
        CHECK(read_window_memory(folder.path()) == WindowMemory{});
    }
}
