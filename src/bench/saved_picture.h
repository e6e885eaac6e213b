// Saving a page's plot: as SVG, PDF and PNG, beside the catalogue and never over other files.
#pragma once

#include <fmt/format.h>

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/picture_place.h"
#include "app/workshop.h"
#include "bench/plot_file/plot_file.h"

namespace coilbook::bench {

// `write` writes one of the three files. Gives what to say: "Saved the map: … as .svg, .pdf and
// .png" of `called` "map". Throws Error where there is no place for them.
template <class Write>
[[nodiscard]] std::string save_picture(app::Workshop& workshop, std::string_view what,
                                       std::string_view called, const Write& write) {
    constexpr std::array kinds{PictureKind::svg, PictureKind::pdf, PictureKind::png};
    std::vector<std::string_view> endings;
    for (const PictureKind kind : kinds) endings.push_back(ending_of(kind));
    const auto place = app::picture_place(workshop, what, endings);
    for (const PictureKind kind : kinds) {
        write(std::filesystem::path(place.string() + std::string(ending_of(kind))), kind);
    }
    return fmt::format("Saved the {}: {} as .svg, .pdf and .png", called, place.string());
}

// The same of a plot, as far as `window` shows it.
[[nodiscard]] inline std::string save_plot(app::Workshop& workshop, std::string_view what,
                                           std::string_view called, const PlotView& plot,
                                           const std::optional<PlotWindow>& window) {
    const PlotWindow shown = window.value_or(PlotWindow{plot.x, plot.y});
    return save_picture(workshop, what, called, [&](const auto& file, PictureKind kind) {
        write_plot(plot, shown, file, kind);
    });
}

}  // namespace coilbook::bench
