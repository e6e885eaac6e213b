#include "app/salvage.h"

#include <fmt/format.h>

#include "store/salvage.h"

namespace coilbook::app {

bool salvage(const std::filesystem::path& damaged, const std::filesystem::path& out,
             const Surroundings& surroundings, std::ostream& results, Format format,
             std::size_t terminal_width) {
    const store::ActNote note{Id<store::Act>::make(surroundings.now(), surroundings.random()),
                              surroundings.now(),
                              surroundings.who,
                              surroundings.program,
                              "salvage what could be read of a damaged catalogue",
                              ""};
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
    std::string note_below;
    for (const auto& broken : salvaged.broken) {
        note_below += fmt::format("act {}: {}\n", broken.act, broken.what_is_wrong);
    }
    for (const auto& settled : salvaged.settled) note_below += settled + "\n";
    note_below += salvaged.is_whole() ? "Nothing was lost." : "Some of it was lost, as told above.";
    writer.finish(note_below);
    return salvaged.is_whole();
}

}  // namespace coilbook::app
