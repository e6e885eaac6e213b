#include "app/picture_place.h"

#include <doctest/doctest.h>

#include <fstream>

#include "support/temporary_folder.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

TEST_SUITE("Where a picture goes") {
    TEST_CASE("beside the catalogue, under its name, and never over another file") {
        const TemporaryFolder folder;
        auto workshop = Workshop::create(folder / "demo.coilbook", foretold_surroundings());
        CHECK(picture_place(workshop, "library", {".svg", ".pdf"}) == folder / "demo-library");
        std::ofstream(folder / "demo-library.pdf") << "something";
        CHECK(picture_place(workshop, "library", {".svg", ".pdf"}) == folder / "demo-library-2");
        CHECK(picture_place(workshop, "library", {".png"}) == folder / "demo-library");
    }

    TEST_CASE("a code with a slash in it names a file, not a folder") {
        const TemporaryFolder folder;
        auto workshop = Workshop::create(folder / "demo.coilbook", foretold_surroundings());
        CHECK(picture_place(workshop, "coil-A/7 b", {".svg"}) == folder / "demo-coil-A-7-b");
    }
}
