#include "bench/shell/photos.h"

#include <GL/gl.h>

#include <algorithm>
#include <cstdint>
#include <utility>

namespace coilbook::bench {
namespace {

// A page shows one or two at a time.
constexpr std::size_t most_kept = 4;
constexpr GLint clamp_to_edge = 0x812F;  // of OpenGL 1.2, which not every GL/gl.h has

void* as_texture(unsigned int name) {
    return reinterpret_cast<void*>(static_cast<std::intptr_t>(name));
}

}  // namespace

WindowPhotos::~WindowPhotos() {
    for (const auto& each : kept_) glDeleteTextures(1, &each.texture);
}

void* WindowPhotos::texture_of(const Photo& photo) {
    const auto found = std::ranges::find(kept_, photo.key, &Kept::key);
    if (found != kept_.end()) {
        kept_.splice(kept_.begin(), kept_, found);
        return as_texture(kept_.front().texture);
    }
    GLint bound = 0;
    glGetIntegerv(GL_TEXTURE_BINDING_2D, &bound);
    GLuint texture = 0;
    glGenTextures(1, &texture);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, clamp_to_edge);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, clamp_to_edge);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, photo.width, photo.height, 0, GL_RGBA, GL_UNSIGNED_BYTE,
                 photo.rgba.data());
    glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(bound));
    kept_.push_front({photo.key, texture});
    if (kept_.size() > most_kept) {
        glDeleteTextures(1, &kept_.back().texture);
        kept_.pop_back();
    }
    return as_texture(texture);
}

}  // namespace coilbook::bench
