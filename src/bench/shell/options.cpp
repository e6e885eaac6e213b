#include "bench/shell/options.h"

#include <charconv>

#include "base/text.h"
#include "quantity/parse.h"

namespace coilbook::bench {
namespace {

std::optional<int> whole_number(std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

Result<WindowSize> read_size(std::string_view text) {
    const auto cross = text.find('x');
    const auto width = whole_number(text.substr(0, cross));
    const auto height =
        cross == std::string_view::npos ? std::nullopt : whole_number(text.substr(cross + 1));
    const auto sensible = [](int pixels, int least) { return pixels >= least && pixels <= 16384; };
    if (!width || !height || !sensible(*width, 640) || !sensible(*height, 480)) {
        return problem("--size", quoted(text) + " is not a size for the window",
                       "width x height in pixels from 640x480, such as 1280x720");
    }
    return WindowSize{*width, *height};
}

Result<float> read_scale(std::string_view text) {
    const auto number = parse_number(text);
    if (!number || *number < 0.75 || *number > 4.0) {
        return problem("--scale", quoted(text) + " is not a scale", "a number from 0.75 to 4");
    }
    return static_cast<float>(*number);
}

}  // namespace

Result<Options> read_options(std::span<const std::string_view> arguments) {
    Options options;
    for (std::size_t at = 0; at < arguments.size(); ++at) {
        const std::string_view argument = arguments[at];
        if (argument == "--help" || argument == "-h") {
            options.wish = Options::Wish::help;
            return options;
        }
        if (argument == "--version") {
            options.wish = Options::Wish::version;
            return options;
        }
        if (argument == "--licences") {
            options.wish = Options::Wish::licences;
            return options;
        }
        if (!argument.starts_with("-")) {
            if (options.catalogue) {
                return problem("", quoted(argument) + " is a second catalogue",
                               "one catalogue at a time");
            }
            options.catalogue = std::string(argument);
            continue;
        }
        const bool known = argument == "--theme" || argument == "--scale" || argument == "--size" ||
                           argument == "--screenshot" || argument == "--catalog";
        if (!known) {
            return problem("", quoted(argument) + " is not an option", "see --help");
        }
        if (at + 1 == arguments.size()) {
            return problem(std::string(argument), "nothing follows it", "see --help");
        }
        const std::string_view value = arguments[++at];
        if (argument == "--theme") {
            if (value != "light" && value != "dark") {
                return problem("--theme", quoted(value) + " is not a theme", "light or dark");
            }
            options.theme = value == "dark" ? ThemeName::dark : ThemeName::light;
        } else if (argument == "--scale") {
            const auto scale = read_scale(value);
            if (!scale) return tl::unexpected(scale.error());
            options.scale = *scale;
        } else if (argument == "--size") {
            const auto size = read_size(value);
            if (!size) return tl::unexpected(size.error());
            options.size = *size;
        } else if (argument == "--screenshot") {
            options.screenshot = std::string(value);
        } else {
            options.catalogue = std::string(value);
        }
    }
    return options;
}

std::string_view help_text() {
    return R"(coilbook-bench: the window of Coilbook, for finding out what a coil is at the bench.

Usage: coilbook-bench [OPTIONS] [CATALOGUE]

CATALOGUE is a *.coilbook file; without it, $COILBOOK_CATALOG, or else
$XDG_DATA_HOME/coilbook/catalogue.coilbook (~/.local/share/coilbook/...).

  --catalog FILE        the catalogue, as for coilbook
  --theme light|dark    colours (as last time; at first light)
  --scale N             size of everything, 0.75 to 4 (as last time; at first the monitor's)
  --size WxH            size of the window in pixels (as last time; at first 1280x800)
  --screenshot FILE     write a picture of the first settled window to a PNG file, and leave
  --licences            the licence of the font inside the program
  --version             the version
  --help                this text

Example: coilbook-bench --theme dark bin.coilbook

Exit status: 0 done; 1 it could not be done, such as when there is no display; 2 wrong usage.
)";
}

}  // namespace coilbook::bench
