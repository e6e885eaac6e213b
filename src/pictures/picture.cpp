#include "pictures/picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "pictures/decoders.h"
#include "pictures/upright.h"

namespace coilbook::pictures {
namespace {

constexpr const char* wanted = "a PNG or JPEG file of at most 8 MiB and 40 million pixels";

tl::unexpected<Problem> refused(std::string why) {
    return problem("photograph", std::move(why), wanted);
}

// Where part `at` of `parts` begins in a side of `length`.
std::size_t edge(std::size_t at, std::size_t parts, std::size_t length) {
    return at * length / parts;
}

// The mean of the pixels in each part, colours weighted by how opaque they are.
Picture shrunk(const Picture& picture, int longest) {
    const int side = std::max(picture.width, picture.height);
    if (side <= longest) return picture;
    const auto scaled = [&](int length) {
        return std::max(1, static_cast<int>(std::int64_t{length} * longest / side));
    };
    Picture small{scaled(picture.width), scaled(picture.height), {}};
    const auto from_width = static_cast<std::size_t>(picture.width);
    const auto from_height = static_cast<std::size_t>(picture.height);
    const auto width = static_cast<std::size_t>(small.width);
    const auto height = static_cast<std::size_t>(small.height);
    small.rgba.resize(4 * width * height);
    for (std::size_t y = 0; y < height; ++y) {
        for (std::size_t x = 0; x < width; ++x) {
            std::uint64_t red = 0, green = 0, blue = 0, opacity = 0, count = 0;
            for (auto row = edge(y, height, from_height); row < edge(y + 1, height, from_height);
                 ++row) {
                const auto* pixel =
                    &picture.rgba[4 * (row * from_width + edge(x, width, from_width))];
                const auto end = edge(x + 1, width, from_width);
                for (auto column = edge(x, width, from_width); column < end; ++column, pixel += 4) {
                    red += std::uint64_t{pixel[0]} * pixel[3];
                    green += std::uint64_t{pixel[1]} * pixel[3];
                    blue += std::uint64_t{pixel[2]} * pixel[3];
                    opacity += pixel[3];
                    ++count;
                }
            }
            auto* to = &small.rgba[4 * (y * width + x)];
            if (opacity == 0) continue;  // nothing is seen there
            to[0] = static_cast<std::uint8_t>((red + opacity / 2) / opacity);
            to[1] = static_cast<std::uint8_t>((green + opacity / 2) / opacity);
            to[2] = static_cast<std::uint8_t>((blue + opacity / 2) / opacity);
            to[3] = static_cast<std::uint8_t>((opacity + count / 2) / count);
        }
    }
    return small;
}

}  // namespace

std::optional<PictureFormat> format_of(std::string_view first_bytes) {
    constexpr std::string_view png("\x89PNG\r\n\x1a\n", 8);
    constexpr std::string_view jpeg("\xff\xd8\xff", 3);
    if (first_bytes.starts_with(png)) return PictureFormat::png;
    if (first_bytes.starts_with(jpeg)) return PictureFormat::jpeg;
    return std::nullopt;
}

Result<PictureHead> head_of(std::string_view bytes) {
    const auto format = format_of(bytes);
    if (!format) return refused("this is no photograph that can be shown");
    if (std::cmp_greater(bytes.size(), largest_picture_bytes)) {
        return refused(fmt::format("this photograph has {:.1f} MiB",
                                   static_cast<double>(bytes.size()) / (1024.0 * 1024.0)));
    }
    const auto found = *format == PictureFormat::png ? png_head(bytes) : jpeg_head(bytes);
    if (!found.problem.empty()) return refused("this photograph is damaged: " + found.problem);
    PictureHead head{*format, found.picture.width, found.picture.height};
    if (head.width < 1 || head.height < 1) return refused("this photograph has no pixels");
    if (std::int64_t{head.width} * head.height > largest_picture_pixels) {
        return refused(fmt::format("this photograph has {} by {} pixels", head.width, head.height));
    }
    if (*format == PictureFormat::jpeg && swaps_sides(orientation_of(bytes))) {
        std::swap(head.width, head.height);
    }
    return head;
}

Result<Picture> decoded(std::string_view bytes, int longest) {
    const auto head = head_of(bytes);
    if (!head) return tl::unexpected(head.error());
    const bool is_png = head->format == PictureFormat::png;
    auto found = is_png ? png_pixels(bytes) : jpeg_pixels(bytes, longest);
    if (!found.problem.empty()) return refused("this photograph is damaged: " + found.problem);
    const auto small = shrunk(found.picture, longest);
    return is_png ? small : upright(small, orientation_of(bytes));
}

}  // namespace coilbook::pictures
