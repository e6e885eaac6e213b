// What a file is that somebody dropped on the window: told by its first bytes, not by its name.
#pragma once

#include <filesystem>

namespace coilbook::app {

enum class FileKind {
    catalogue,   // of ours or another: opening it tells
    photograph,  // PNG or JPEG
    text,        // anything else that can be read, such as a readings file
    unreadable   // a folder, or not there, or not to be read
};

[[nodiscard]] FileKind kind_of(const std::filesystem::path& file);

}  // namespace coilbook::app
