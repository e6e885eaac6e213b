// Where a picture of what is on the screen is put, so that a person finds it.
#pragma once

#include <filesystem>
#include <string_view>
#include <vector>

#include "app/workshop.h"

namespace coilbook::app {

// A file name without its ending, in the catalogue's folder, or, where nothing can be written
// there, in the person's home: "demo-library" for a picture of the `what` "library" of
// demo.coilbook, or "demo-library-2", … where a file of that name has one of `endings` (".svg")
// already; what file systems dislike in `what`, such as a slash, becomes a dash. Nothing is written
// over. Throws Error where there is no folder at all.
[[nodiscard]] std::filesystem::path picture_place(Workshop& workshop, std::string_view what,
                                                  const std::vector<std::string_view>& endings);

}  // namespace coilbook::app
