// What the window remembers from one start to the next: its size, its colours, how large everything
// is, whether hands are cold, and in which units numbers are shown. It belongs to the person at
// this machine, not to a catalogue.
//
// A JSON file, $XDG_CONFIG_HOME/coilbook/window.json or ~/.config/coilbook/window.json. What cannot
// be read in it is as if nothing had been remembered; forgetting does no harm.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace coilbook::app {

struct WindowMemory {
    std::optional<int> width, height;  // pixels
    std::optional<bool> is_dark;
    std::optional<double> scale;       // nothing: the monitor's
    bool large = false;                // the layout for cold fingers
    std::optional<std::string> units;  // "grams and metres", as quantity/unit_set.h names them

    bool operator==(const WindowMemory&) const = default;
};

// Where it is kept; nothing where there is no home.
[[nodiscard]] std::optional<std::filesystem::path> window_memory_place();

// Nothing remembered where there is no such file or it says something else. Sizes from 640 x 480 to
// 16384 x 16384 and scales from 0.75 to 4 are believed.
[[nodiscard]] WindowMemory read_window_memory(const std::filesystem::path& file);
// Writes it whole or not at all, readable by its owner alone. Gives whether that worked: a window
// that cannot remember is no reason to disturb the person.
bool write_window_memory(const std::filesystem::path& file, const WindowMemory& memory);

}  // namespace coilbook::app
