// Photographs as textures of the window's drawing context.
#pragma once

#include <list>
#include <string>

#include "bench/widgets/photo.h"

namespace coilbook::bench {

// REQUIRES: the window's context is there as long as this is used; what it holds goes with it.
class WindowPhotos : public PhotoKeeper {
  public:
    ~WindowPhotos() override;
    [[nodiscard]] void* texture_of(const Photo& photo) override;

  private:
    struct Kept {
        std::string key;
        unsigned int texture;
    };
    std::list<Kept> kept_;  // the one asked for last comes first
};

}  // namespace coilbook::bench
