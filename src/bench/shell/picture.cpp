#include "bench/shell/picture.h"

#include <GL/gl.h>
#include <stb/stb_image_write.h>

#include <cstddef>
#include <filesystem>
#include <vector>

#include "base/error.h"

namespace coilbook::bench {

void write_picture(WindowSize size, const std::string& file) {
    const int stride = size.width * 3;
    std::vector<unsigned char> pixels(static_cast<std::size_t>(stride) *
                                      static_cast<std::size_t>(size.height));
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadBuffer(GL_BACK);
    glReadPixels(0, 0, size.width, size.height, GL_RGB, GL_UNSIGNED_BYTE, pixels.data());

    stbi_flip_vertically_on_write(1);  // OpenGL counts rows from below
    const std::string unfinished = file + ".unfinished";
    std::error_code ignored;
    if (stbi_write_png(unfinished.c_str(), size.width, size.height, 3, pixels.data(), stride) ==
        0) {
        std::filesystem::remove(unfinished, ignored);
        throw Error("the picture cannot be written to " + file);
    }
    std::error_code why;
    std::filesystem::rename(unfinished, file, why);
    if (why) {
        std::filesystem::remove(unfinished, ignored);
        throw Error("the picture cannot be written to " + file + ": " + why.message());
    }
}

}  // namespace coilbook::bench
