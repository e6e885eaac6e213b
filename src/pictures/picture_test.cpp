#include "pictures/picture.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <random>

#include "support/a_photograph.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::pictures;

namespace {

struct Pixel {
    int red, green, blue, opacity;
};
Pixel at(const Picture& picture, int x, int y) {
    const auto place = 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                            static_cast<std::size_t>(x));
    return {picture.rgba[place], picture.rgba[place + 1], picture.rgba[place + 2],
            picture.rgba[place + 3]};
}

}  // namespace

TEST_SUITE("Photographs") {
    TEST_CASE("a PNG comes out as it was painted") {
        const auto bytes = a_png(6, 4);
        CHECK(head_of(bytes) == PictureHead{PictureFormat::png, 6, 4});
        const auto picture = decoded(bytes, 100);
        REQUIRE(picture.has_value());
        CHECK(picture->width == 6);
        CHECK(picture->rgba.size() == 4 * 6 * 4);
        CHECK(at(*picture, 5, 0).red == 255);
        CHECK(at(*picture, 0, 3).green == 255);
        CHECK(at(*picture, 2, 2).blue == 40);
        CHECK(at(*picture, 2, 2).opacity == 255);
    }

    TEST_CASE("a JPEG comes out nearly so") {
        const auto bytes = a_jpeg(64, 48);
        CHECK(head_of(bytes) == PictureHead{PictureFormat::jpeg, 64, 48});
        const auto picture = decoded(bytes, 100);
        REQUIRE(picture.has_value());
        CHECK(at(*picture, 63, 0).red > 240);
        CHECK(at(*picture, 0, 47).green > 240);
        CHECK(at(*picture, 0, 0).red < 15);
    }

    TEST_CASE("one that is too large to be shown is made smaller, its sides in proportion") {
        for (const auto& bytes : {a_png(640, 320), a_jpeg(640, 320)}) {
            const auto picture = decoded(bytes, 100);
            REQUIRE(picture.has_value());
            CHECK(picture->width == 100);
            CHECK(picture->height == 50);
            CHECK(at(*picture, 99, 0).red > 245);
            CHECK(at(*picture, 0, 49).green > 245);
            CHECK(at(*picture, 50, 25).opacity == 255);
        }
        const auto thin = decoded(a_png(500, 1), 10);
        REQUIRE(thin.has_value());
        CHECK(thin->height == 1);
    }

    TEST_CASE("one from a camera held upright stands upright") {
        const auto bytes = a_jpeg(640, 320, 6);
        CHECK(head_of(bytes) == PictureHead{PictureFormat::jpeg, 320, 640});
        const auto picture = decoded(bytes, 100);
        REQUIRE(picture.has_value());
        CHECK(picture->width == 50);
        CHECK(picture->height == 100);
        // Its first row is at the right side now, so red grows downwards and green to the left.
        CHECK(at(*picture, 49, 99).red > 245);
        CHECK(at(*picture, 0, 0).green > 245);
    }

    TEST_CASE("what is no photograph, too large or damaged is refused in words") {
        const auto why = [](std::string_view bytes) {
            const auto picture = decoded(bytes, 100);
            REQUIRE_FALSE(picture.has_value());
            CHECK(picture.error().field == "photograph");
            CHECK(mentions(picture.error().suggestion, "8 MiB"));
            return picture.error().sentence;
        };
        CHECK(why("") == "this is no photograph that can be shown");
        CHECK(why("code,notes\nA7,\n") == "this is no photograph that can be shown");
        CHECK(why(a_png(4, 4) + std::string(9 * 1024 * 1024, ' ')) ==
              "this photograph has 9.0 MiB");
        // The width and height in a PNG's head, and its check sum, would have to be forged; a head
        // that is only cut off is damage.
        CHECK(mentions(why(a_png(40, 40).substr(0, 20)), "damaged"));
        CHECK(mentions(why(a_png(40, 40).substr(0, 60)), "damaged"));
        CHECK(mentions(why(a_jpeg(40, 40).substr(0, 20)), "damaged"));
        const auto jpeg = a_jpeg(640, 480);
        CHECK(mentions(why(jpeg.substr(0, jpeg.size() / 2)), "ends too early"));
    }

    TEST_CASE("more pixels than the limit are refused before they are decoded") {
        // 6400 by 6400 is 41 million; a plain picture of that size is a small file.
        auto bytes = a_jpeg(8, 8);
        const auto frame = bytes.find("\xff\xc0");
        REQUIRE(frame != std::string::npos);
        for (const std::size_t side : {frame + 5, frame + 7}) {
            bytes[side] = static_cast<char>(6400 / 256);
            bytes[side + 1] = static_cast<char>(6400 % 256);
        }
        const auto head = head_of(bytes);
        REQUIRE_FALSE(head.has_value());
        CHECK(head.error().sentence == "this photograph has 6400 by 6400 pixels");
    }

    TEST_CASE("whatever the bytes are, they are a picture or a Problem") {
        std::mt19937 chance(11);
        const std::array<std::string, 2> sound{a_png(40, 30), a_jpeg(40, 30, 6)};
        int refused = 0;
        for (int life = 0; life < 600; ++life) {
            auto bytes = sound[static_cast<std::size_t>(life % 2)];
            for (int change = 0; change < 4; ++change) {
                bytes[8 + chance() % (bytes.size() - 8)] = static_cast<char>(chance());
            }
            const auto picture = decoded(bytes, 20);
            if (!picture) {
                ++refused;
                continue;
            }
            CHECK(std::max(picture->width, picture->height) <= 20);
            CHECK(picture->rgba.size() == 4 * static_cast<std::size_t>(picture->width) *
                                              static_cast<std::size_t>(picture->height));
        }
        CHECK(refused > 100);
    }
}
