// What the window program is told when it starts.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.h"
#include "bench/widgets/theme.h"

namespace coilbook::bench {

struct WindowSize {
    int width = 1280, height = 800;
    bool operator==(const WindowSize&) const = default;
};

struct Options {
    enum class Wish { open, help, version, licences };

    Wish wish = Wish::open;
    std::optional<std::string> catalogue;  // the file; without it the default one
    // Without these, what was remembered, or else light, the monitor's scale, and 1280 x 800.
    std::optional<ThemeName> theme;
    std::optional<float> scale;             // 0.75 to 4
    std::optional<WindowSize> size;         // 640 x 480 to 16384 x 16384
    std::optional<std::string> screenshot;  // a PNG file to write instead of staying open
};

// Reads the arguments after the program's name. A Problem for what is unknown or out of range;
// its field is the option.
[[nodiscard]] Result<Options> read_options(std::span<const std::string_view> arguments);

// The text of --help.
[[nodiscard]] std::string_view help_text();

}  // namespace coilbook::bench
