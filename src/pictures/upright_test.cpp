#include "pictures/upright.h"

#include <doctest/doctest.h>

#include <random>

#include "support/a_photograph.h"

using namespace coilbook;
using namespace coilbook::pictures;

namespace {

// Two rows of three pixels, told apart by their red: 1 2 3 / 4 5 6.
Picture numbered() {
    Picture picture{3, 2, {}};
    for (std::uint8_t number = 1; number <= 6; ++number) {
        for (const std::uint8_t part :
             {number, std::uint8_t{0}, std::uint8_t{0}, std::uint8_t{255}}) {
            picture.rgba.push_back(part);
        }
    }
    return picture;
}
std::string reds(const Picture& picture) {
    std::string text;
    for (std::size_t at = 0; at < picture.rgba.size(); at += 4) {
        if (at > 0 && at / 4 % static_cast<std::size_t>(picture.width) == 0) text += '/';
        text += static_cast<char>('0' + picture.rgba[at]);
    }
    return text;
}

}  // namespace

TEST_SUITE("How a camera was held") {
    TEST_CASE("each of the eight ways is turned upright") {
        // By hand from the standard: value 6, say, has the stored first row at the right side and
        // the first column at the top.
        CHECK(reds(upright(numbered(), 1)) == "123/456");
        CHECK(reds(upright(numbered(), 2)) == "321/654");
        CHECK(reds(upright(numbered(), 3)) == "654/321");
        CHECK(reds(upright(numbered(), 4)) == "456/123");
        CHECK(reds(upright(numbered(), 5)) == "14/25/36");
        CHECK(reds(upright(numbered(), 6)) == "41/52/63");
        CHECK(reds(upright(numbered(), 7)) == "63/52/41");
        CHECK(reds(upright(numbered(), 8)) == "36/25/14");
    }

    TEST_CASE("it is read out of the file, and upright is what says nothing") {
        for (int orientation = 1; orientation <= 8; ++orientation) {
            CHECK(orientation_of(a_jpeg(8, 4, orientation)) == orientation);
        }
        CHECK(orientation_of(a_jpeg(8, 4)) == 1);
        CHECK(orientation_of(a_jpeg(8, 4, 9)) == 1);
        CHECK(orientation_of(a_png(8, 4)) == 1);
        CHECK(orientation_of("") == 1);
    }

    TEST_CASE("whatever the bytes are, it is one of the eight") {
        std::mt19937 chance(7);
        const auto sound = a_jpeg(8, 4, 6);
        for (int life = 0; life < 3000; ++life) {
            auto bytes = sound.substr(0, chance() % 60);
            for (int change = 0; change < 3 && !bytes.empty(); ++change) {
                bytes[chance() % bytes.size()] = static_cast<char>(chance());
            }
            const int orientation = orientation_of(bytes);
            CHECK((orientation >= 1 && orientation <= 8));
        }
    }
}
