#include "bench/plot_file/plot_file.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/error.h"
#include "support/temporary_folder.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
namespace fs = std::filesystem;

namespace {

PlotView a_plot() {
    PlotView view;
    view.x = {0.5, 2.0};
    view.y = {5.0, 20.0};
    view.x_label = "Diameter, mm";
    view.y_label = "Weight per foot, gr/ft";
    PlotEllipse ellipse{};
    ellipse.x = 0.85;
    ellipse.y = 11;
    ellipse.sd_ln_x = ellipse.sd_ln_y = 0.05;
    ellipse.name = "T-11";
    view.ellipses.push_back(ellipse);
    view.curves.push_back({.points = {{0.5, 5.0}, {2.0, 20.0}}, .name = "4 g/cm³"});
    return view;
}

std::string text_of(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

}  // namespace

TEST_SUITE("Plots as files") {
    TEST_CASE("each kind is what its ending says, and not empty") {
        const TemporaryFolder folder;
        const PlotView view = a_plot();
        for (const auto& [kind, begins] :
             {std::pair{PictureKind::svg, "<?xml"}, std::pair{PictureKind::pdf, "%PDF-"},
              std::pair{PictureKind::png, "\x89PNG"}}) {
            const fs::path file = folder / ("plot" + std::string(ending_of(kind)));
            write_plot(view, {view.x, view.y}, file, kind);
            const std::string text = text_of(file);
            CHECK(text.starts_with(begins));
            CHECK(text.size() > 3000);
        }
    }

    TEST_CASE("an SVG has the size that it should have on paper") {
        const TemporaryFolder folder;
        const PlotView view = a_plot();
        const fs::path file = folder / "plot.svg";
        write_plot(view, {view.x, view.y}, file, PictureKind::svg);
        says(text_of(file), "width=\"720pt\" height=\"480pt\"");  // 10 by 6 2/3 inches
    }

    TEST_CASE("a folder that is not there is an error that names the file") {
        const PlotView view = a_plot();
        for (const PictureKind kind : {PictureKind::svg, PictureKind::pdf, PictureKind::png}) {
            const fs::path file = "/nowhere/plot" + std::string(ending_of(kind));
            says(error_of([&] { write_plot(view, {view.x, view.y}, file, kind); }), file.string());
        }
    }
}
