#include "app/window_memory.h"

#include <sys/stat.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

namespace coilbook::app {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

constexpr std::uintmax_t longest_file = 4096;

template <class Number>
std::optional<Number> number_in(const json& all, const char* name, double low, double high) {
    const auto found = all.find(name);
    if (found == all.end() || !found->is_number()) return std::nullopt;
    const double value = found->get<double>();
    if (!(value >= low && value <= high)) return std::nullopt;
    return static_cast<Number>(value);
}

std::optional<bool> flag_in(const json& all, const char* name) {
    const auto found = all.find(name);
    if (found == all.end() || !found->is_boolean()) return std::nullopt;
    return found->get<bool>();
}

}  // namespace

std::optional<fs::path> window_memory_place() {
    const auto folder = [](const char* name) {
        const char* value = std::getenv(name);
        return fs::path(value ? value : "");
    };
    if (const fs::path config = folder("XDG_CONFIG_HOME"); config.is_absolute()) {
        return config / "coilbook" / "window.json";
    }
    const fs::path home = folder("HOME");
    if (!home.is_absolute()) return std::nullopt;
    return home / ".config" / "coilbook" / "window.json";
}

WindowMemory read_window_memory(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error) || fs::file_size(file, error) > longest_file) return {};
    std::ifstream stream(file);
    const json all = json::parse(stream, nullptr, false);
    if (!all.is_object()) return {};
    WindowMemory memory;
    memory.width = number_in<int>(all, "width", 640, 16384);
    memory.height = number_in<int>(all, "height", 480, 16384);
    memory.scale = number_in<double>(all, "scale", 0.75, 4.0);
    memory.is_dark = flag_in(all, "dark");
    memory.large = flag_in(all, "large").value_or(false);
    if (const auto units = all.find("units"); units != all.end() && units->is_string()) {
        memory.units = units->get<std::string>();
    }
    return memory;
}

bool write_window_memory(const fs::path& file, const WindowMemory& memory) {
    json all = json::object();
    if (memory.width) all["width"] = *memory.width;
    if (memory.height) all["height"] = *memory.height;
    if (memory.scale) all["scale"] = *memory.scale;
    if (memory.is_dark) all["dark"] = *memory.is_dark;
    if (memory.large) all["large"] = true;
    if (memory.units) all["units"] = *memory.units;
    std::error_code error;
    fs::create_directories(file.parent_path(), error);
    fs::path fresh = file;
    fresh += ".new";
    const mode_t before = ::umask(0077);
    {
        std::ofstream stream(fresh, std::ios::trunc);
        stream << all.dump(2) << '\n';
        if (!stream.flush()) error = std::make_error_code(std::errc::io_error);
    }
    ::umask(before);
    if (!error) fs::rename(fresh, file, error);
    return !error;
}

}  // namespace coilbook::app
