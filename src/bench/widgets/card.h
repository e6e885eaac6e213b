// A card: a part of the page with a rounded edge, a name and, if it is too long, its own scrolling.
#pragma once

#include <string_view>

#include "bench/widgets/look.h"
#include "bench/widgets/scope.h"

namespace coilbook::bench {

class Card {
  public:
    // `width` and `height` in pixels, 0 for all the space that is left. `title` and `aside` may be
    // empty; `id` is its identity.
    Card(const Look& look, const char* id, float width, float height, std::string_view title = {},
         std::string_view aside = {});

  private:
    ChildScope child_;
};

}  // namespace coilbook::bench
