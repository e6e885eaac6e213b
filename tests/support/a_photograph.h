// Photographs for tests, made by the libraries that read them: invented, of a few pixels or many.
#pragma once

#include <cstdio>  // jpeglib.h needs it before it

#include <jpeglib.h>
#include <png.h>

#include <algorithm>
#include <cstdlib>
#include <stdexcept>
#include <string>
#include <vector>

namespace coilbook {

// Red grows to the right and green downwards, so that every corner is another one.
struct Painted {
    int width, height;

    [[nodiscard]] std::vector<unsigned char> rgb() const {
        std::vector<unsigned char> pixels;
        for (int y = 0; y < height; ++y) {
            for (int x = 0; x < width; ++x) {
                pixels.push_back(static_cast<unsigned char>(255 * x / std::max(1, width - 1)));
                pixels.push_back(static_cast<unsigned char>(255 * y / std::max(1, height - 1)));
                pixels.push_back(40);
            }
        }
        return pixels;
    }
};

[[nodiscard]] inline std::string a_png(int width, int height) {
    const auto pixels = Painted{width, height}.rgb();
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(width);
    image.height = static_cast<png_uint_32>(height);
    image.format = PNG_FORMAT_RGB;
    png_alloc_size_t size = 0;
    if (png_image_write_to_memory(&image, nullptr, &size, 0, pixels.data(), 0, nullptr) == 0) {
        throw std::runtime_error(image.message);
    }
    std::string bytes(size, '\0');
    if (png_image_write_to_memory(&image, bytes.data(), &size, 0, pixels.data(), 0, nullptr) == 0) {
        throw std::runtime_error(image.message);
    }
    bytes.resize(size);
    return bytes;
}

// `orientation` 1 to 8 is told in an Exif segment; 0: nothing is told.
[[nodiscard]] inline std::string a_jpeg(int width, int height, int orientation = 0) {
    auto pixels = Painted{width, height}.rgb();
    jpeg_compress_struct info{};
    jpeg_error_mgr manager{};
    info.err = jpeg_std_error(&manager);
    jpeg_create_compress(&info);
    unsigned char* made = nullptr;
    unsigned long size = 0;
    jpeg_mem_dest(&info, &made, &size);
    info.image_width = static_cast<JDIMENSION>(width);
    info.image_height = static_cast<JDIMENSION>(height);
    info.input_components = 3;
    info.in_color_space = JCS_RGB;
    jpeg_set_defaults(&info);
    jpeg_set_quality(&info, 95, TRUE);
    jpeg_start_compress(&info, TRUE);
    while (info.next_scanline < info.image_height) {
        JSAMPROW row = pixels.data() + 3 * static_cast<std::size_t>(width) * info.next_scanline;
        jpeg_write_scanlines(&info, &row, 1);
    }
    jpeg_finish_compress(&info);
    std::string bytes(reinterpret_cast<const char*>(made), size);
    std::free(made);
    jpeg_destroy_compress(&info);
    if (orientation == 0) return bytes;
    std::string exif("Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0", 25);
    exif += static_cast<char>(orientation);
    exif += std::string(6, '\0');
    const std::string segment =
        std::string("\xff\xe1\0", 3) + static_cast<char>(exif.size() + 2) + exif;
    return bytes.substr(0, 2) + segment + bytes.substr(2);
}

}  // namespace coilbook
