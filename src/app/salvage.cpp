#include "app/salvage.h"

#include <fmt/format.h>

#include "store/salvage.h"

namespace coilbook::app {
namespace {

// A line for each of the first ten, and how many there are in all.
template <class Each, class Line>
std::string first_ones(const std::vector<Each>& all, const char* what, Line line) {
    constexpr std::size_t most = 10;
    std::string text;
    for (std::size_t at = 0; at < all.size() && at < most; ++at) text += line(all[at]) + "\n";
    if (all.size() > most) {
        text += fmt::format(
            "and so on: {} {} in all; the last act of 'coilbook history --format "
            "json' has what was settled\n",
            all.size(), what);
    }
    return text;
}

}  // namespace

bool salvage(const std::filesystem::path& damaged, const std::filesystem::path& out,
             const Surroundings& surroundings, std::ostream& results, Format format,
             std::size_t terminal_width) {
    const store::ActNote note{Id<store::Act>::make(surroundings.now(), surroundings.random()),
                              surroundings.now(),
                              surroundings.who,
                              surroundings.program,
                              "salvage what could be read of a damaged catalogue",
                              "",
                              surroundings.laptop};
    const auto salvaged = store::salvage(damaged, out, note);
    RowWriter writer(results,
                     {{"table"},
                      {"rows", true, 12},
                      {"refused", true, 12},
                      {"dangling", true, 12},
                      {"gaps", true, 12}},
                     format, terminal_width);
    for (const auto& table : salvaged.tables) {
        writer.add({table.table, table.rows, table.refused, table.dangling, table.gaps});
    }
    std::string note_below = first_ones(salvaged.broken, "acts", [](const auto& broken) {
        return fmt::format("act {}: {}", broken.act, broken.what_is_wrong);
    });
    note_below += first_ones(salvaged.settled, "differences of rows and history",
                             [](const auto& settled) { return settled; });
    if (salvaged.list_was_lost) note_below += "The list of tables was lost and is made anew.\n";
    note_below += salvaged.is_whole() ? "Nothing was lost." : "Some of it was lost, as told above.";
    writer.finish(note_below);
    return salvaged.is_whole();
}

}  // namespace coilbook::app
