#include "bench/widgets/plot_actions.h"

#include <algorithm>
#include <array>

namespace coilbook::bench {
namespace {

constexpr double one_step = 1.5;   // closer or further
constexpr double one_move = 0.25;  // of what is seen

// The coil in hand, else what is chosen.
std::optional<PlotXy> looked_at(const PlotView& view) {
    for (const Emphasis emphasis : {Emphasis::own, Emphasis::chosen}) {
        const auto found = std::ranges::find(view.ellipses, emphasis, &PlotEllipse::emphasis);
        if (found != view.ellipses.end()) return PlotXy{found->x, found->y};
    }
    return std::nullopt;
}

void zoom_by(const ShownPlot& plot, double factor) {
    const PlotWindow whole{plot.view.x, plot.view.y};
    const PlotWindow shown = plot.window.value_or(whole);
    double share_x = 0.5, share_y = 0.5;
    if (const auto about = looked_at(plot.view)) {
        const double x = shown.x.share(about->x), y = shown.y.share(about->y);
        if (x > 0 && x < 1 && y > 0 && y < 1) {
            share_x = x;
            share_y = y;
        }
    }
    plot.window = unless_whole(zoomed(shown, whole, share_x, share_y, factor), whole);
}

void move_by(const ShownPlot& plot, double right, double up) {
    const PlotWindow whole{plot.view.x, plot.view.y};
    if (plot.window) plot.window = moved(*plot.window, whole, right, up);
}

struct Entry {
    Action action;
    bool (*is_possible)(const ShownPlot& plot);
    void (*run)(const ShownPlot& plot);
};

bool with_anything(const ShownPlot& plot) {
    return !plot.view.has_nothing();
}
bool closer_by(const ShownPlot& plot) {
    return plot.window.has_value();
}

const auto& entries() {
    static const std::array all{
        Entry{{"closer", "Look closer at the plot", alt(key::page_up)},
              with_anything,
              [](const ShownPlot& plot) { zoom_by(plot, one_step); }},
        Entry{{"further", "Look at the plot from further away", alt(key::page_down)},
              closer_by,
              [](const ShownPlot& plot) { zoom_by(plot, 1 / one_step); }},
        Entry{{"whole plot", "Show the whole plot again", alt(key::home)},
              closer_by,
              [](const ShownPlot& plot) { plot.window.reset(); }},
        Entry{{"plot to the left", "Look further to the left in the plot", alt(key::left)},
              closer_by,
              [](const ShownPlot& plot) { move_by(plot, -one_move, 0); }},
        Entry{{"plot to the right", "Look further to the right in the plot", alt(key::right)},
              closer_by,
              [](const ShownPlot& plot) { move_by(plot, one_move, 0); }},
        Entry{{"plot up", "Look further up in the plot", alt(key::up)},
              closer_by,
              [](const ShownPlot& plot) { move_by(plot, 0, one_move); }},
        Entry{{"plot down", "Look further down in the plot", alt(key::down)},
              closer_by,
              [](const ShownPlot& plot) { move_by(plot, 0, -one_move); }},
    };
    return all;
}

}  // namespace

std::vector<Action> plot_actions(const ShownPlot& plot) {
    return offered(entries(), plot);
}

bool perform(std::string_view action, const ShownPlot& plot) {
    do_by_name(entries(), action, plot, plot);
    return std::ranges::any_of(entries(),
                               [&](const Entry& entry) { return entry.action.name == action; });
}

}  // namespace coilbook::bench
