#include <png.h>

#include "pictures/decoders.h"

namespace coilbook::pictures {
namespace {

// libpng's own simplified reader, which catches its errors itself.
class Reader {
  public:
    explicit Reader(std::string_view bytes) {
        image_.version = PNG_IMAGE_VERSION;
        is_begun_ = png_image_begin_read_from_memory(&image_, bytes.data(), bytes.size()) != 0;
    }
    ~Reader() { png_image_free(&image_); }
    Reader(const Reader&) = delete;
    Reader& operator=(const Reader&) = delete;

    [[nodiscard]] bool is_begun() const { return is_begun_; }
    [[nodiscard]] png_image& image() { return image_; }
    [[nodiscard]] std::string why() const { return image_.message; }

  private:
    png_image image_{};
    bool is_begun_ = false;
};

Decoded sized(const png_image& image) {
    Decoded decoded;
    decoded.picture.width = static_cast<int>(image.width);
    decoded.picture.height = static_cast<int>(image.height);
    return decoded;
}

}  // namespace

Decoded png_head(std::string_view bytes) {
    Reader reader(bytes);
    if (!reader.is_begun()) return {{}, reader.why()};
    return sized(reader.image());
}

Decoded png_pixels(std::string_view bytes) {
    Reader reader(bytes);
    if (!reader.is_begun()) return {{}, reader.why()};
    Decoded decoded = sized(reader.image());
    reader.image().format = PNG_FORMAT_RGBA;
    decoded.picture.rgba.resize(PNG_IMAGE_SIZE(reader.image()));
    const int done =
        png_image_finish_read(&reader.image(), nullptr, decoded.picture.rgba.data(), 0, nullptr);
    if (done == 0) return {{}, reader.why()};
    return decoded;
}

}  // namespace coilbook::pictures
