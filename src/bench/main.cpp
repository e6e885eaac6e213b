// coilbook-bench: the window.
#include <fmt/format.h>

#include <csignal>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "app/surroundings.h"
#include "app/window_memory.h"
#include "app/workshop.h"
#include "base/error.h"
#include "bench/catalogue_screen.h"
#include "bench/shell/fonts.h"
#include "bench/shell/options.h"
#include "bench/shell/shell.h"

namespace {

using namespace coilbook;

// The real ones, with warnings for the window to show.
app::Surroundings surroundings_for(const bench::CatalogueScreen::Warnings& warnings) {
    auto surroundings = app::real_surroundings("coilbook-bench");
    surroundings.warn = [warnings](const std::string& words) { warnings->push_back(words); };
    return surroundings;
}

// About 20000 coils with six readings each are read in half a second; with more the window comes
// first, and says how long it takes.
bool takes_long_to_read(const std::filesystem::path& file) {
    constexpr std::uintmax_t half_a_second = 50'000'000;
    std::error_code none;
    const auto size = std::filesystem::file_size(file, none);
    return !none && size > half_a_second;
}

// The default catalogue is made at the first start; one that was named must be there, since a name
// that was mistyped would otherwise look like an empty bin.
app::Workshop open_catalogue(const std::filesystem::path& file, bool is_named,
                             app::Surroundings surroundings) {
    if (!is_named && !std::filesystem::exists(file)) {
        return app::Workshop::create(file, std::move(surroundings));
    }
    return app::Workshop::open_at_once(file, std::move(surroundings));
}

// What was said at the start counts before what was remembered.
bench::WindowLook look_from(const bench::Options& options, const app::WindowMemory& memory) {
    bench::WindowLook look;
    if (memory.width && memory.height) look.size = {*memory.width, *memory.height};
    if (memory.is_dark) look.theme = *memory.is_dark ? bench::ThemeName::dark : look.theme;
    if (memory.scale) look.scale = static_cast<float>(*memory.scale);
    look.is_large = memory.large;
    look.size = options.size.value_or(look.size);
    look.theme = options.theme.value_or(look.theme);
    if (options.scale) look.scale = options.scale;
    return look;
}

app::WindowMemory to_remember(const bench::WindowLook& look, const Units& units) {
    app::WindowMemory memory;
    memory.units = std::string(units.name);
    memory.width = look.size.width;
    memory.height = look.size.height;
    memory.is_dark = look.theme == bench::ThemeName::dark;
    if (look.scale) memory.scale = static_cast<double>(*look.scale);
    memory.large = look.is_large;
    return memory;
}

int open_window(const bench::Options& options) {
    const auto file = app::catalogue_path(options.catalogue);
    const auto warnings = std::make_shared<std::vector<std::string>>();
    const auto surroundings = surroundings_for(warnings);
    const auto open_dropped = [surroundings](const std::string& path) {
        return app::Workshop::open(path, surroundings);
    };
    const bool is_large = takes_long_to_read(file);
    bench::CatalogueScreen screen(
        is_large ? app::Workshop::in_memory(surroundings)
                 : open_catalogue(file, options.catalogue.has_value(), surroundings),
        file.filename().string(), open_dropped, warnings);
    if (is_large) screen.open_first(file.string());
    const auto memory_file = app::window_memory_place();
    const auto memory = memory_file ? app::read_window_memory(*memory_file) : app::WindowMemory{};
    bench::WindowLook shown = look_from(options, memory);
    const auto remember = [&](const bench::WindowLook& look) {
        shown = look;
        if (memory_file) app::write_window_memory(*memory_file, to_remember(shown, screen.units()));
    };
    screen.show_in(units_named(memory.units.value_or("")));
    screen.when_units_change([&](const Units&) { remember(shown); });
    bench::run_window(bench::WindowLook(shown), options.screenshot, screen, remember);
    if (!screen.why_not_opened().empty()) throw Error(screen.why_not_opened());
    return 0;
}

int run(const bench::Options& options) {
    switch (options.wish) {
        case bench::Options::Wish::open:
            return open_window(options);
        case bench::Options::Wish::help:
            fmt::print("{}", bench::help_text());
            return 0;
        case bench::Options::Wish::version:
            fmt::print("coilbook-bench {}\n", app::version());
            return 0;
        case bench::Options::Wish::licences:
            fmt::print("{}", bench::font_licence());
            return 0;
    }
    return 2;
}

}  // namespace

int main(int count, char** words) {
    // A full disk or a closed pipe is an error to be told, not an end without a word.
    std::signal(SIGXFSZ, SIG_IGN);
    std::signal(SIGPIPE, SIG_IGN);

    const std::vector<std::string_view> arguments(words + 1, words + count);
    const auto options = bench::read_options(arguments);
    if (!options) {
        fmt::print(stderr, "coilbook-bench: {}\n", to_line(options.error()));
        return 2;
    }
    try {
        return run(*options);
    } catch (const std::exception& error) {
        fmt::print(stderr, "coilbook-bench: {}\n", error.what());
        return 1;
    }
}
