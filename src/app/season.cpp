#include "app/season.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <sstream>

#include "app/labels.h"
#include "app/picture_place.h"
#include "outings/season.h"
#include "store/custody_repository.h"

namespace coilbook::app {
namespace {

std::vector<SeasonLoss> losses_of(Workshop& workshop, Inventory& inventory, const Season& season) {
    const auto record = workshop.catalogue().custody().record();
    return season_losses(record, Instant(season.first), Instant(season.last + std::chrono::days{1}),
                         [&](const Thing& thing) { return inventory.class_of(thing); });
}

std::string boat_of(const Inventory& inventory, const SeasonLoss& loss) {
    return loss.boat ? inventory.boat_name(*loss.boat) : std::string();
}

// " from 2026-05-01 to 2026-10-31"; an end that nobody named is left out.
std::string days_of(const Season& season) {
    const bool has_first = season.first > Day(std::chrono::year{1970} / 1 / 1);
    const bool has_last = season.last < Day(std::chrono::year{9999} / 12 / 31);
    std::string words;
    if (has_first) words += (has_last ? " from " : " since ") + day_text(season.first);
    if (has_last) words += (has_first ? " to " : " until ") + day_text(season.last);
    return words;
}

}  // namespace

void write_losses(Workshop& workshop, const Season& season, std::ostream& out, Format format,
                  std::size_t terminal_width) {
    Inventory inventory(workshop);
    RowWriter writer(out,
                     {{"boat"},
                      {"class"},
                      {"lost", true},
                      {"found", true},
                      {"damaged", true},
                      {"retired", true}},
                     format, terminal_width);
    for (const auto& loss : losses_of(workshop, inventory, season)) {
        writer.add({cell_of(boat_of(inventory, loss)), loss.class_name, std::int64_t{loss.lost},
                    std::int64_t{loss.found}, std::int64_t{loss.damaged},
                    std::int64_t{loss.retired}});
    }
    writer.finish("Found: lost, but there again by the end. No boat: not from a boat.");
}

std::vector<Replacement> replacements(Workshop& workshop, Inventory& inventory,
                                      const Season& season) {
    std::map<std::string, int> in_bin;
    for (std::size_t at = 0; at < inventory.bin().size(); ++at) {
        const Thing thing(inventory.bin().entry(at).coil.id);
        const auto place = inventory.custody().place_in_the_end(thing);
        if (is_at_hand(place.where)) ++in_bin[inventory.class_of(thing)];
    }
    std::vector<Replacement> rows;
    for (const auto& each : to_replace(losses_of(workshop, inventory, season))) {
        rows.push_back({each.class_name, each.count, in_bin[each.class_name]});
    }
    return rows;
}

void write_to_replace(Workshop& workshop, const Season& season, std::ostream& out, Format format,
                      std::size_t terminal_width) {
    Inventory inventory(workshop);
    RowWriter writer(out, {{"class"}, {"gone", true}, {"left", true}}, format, terminal_width);
    for (const auto& each : replacements(workshop, inventory, season)) {
        writer.add({each.class_name, std::int64_t{each.gone}, std::int64_t{each.left}});
    }
    writer.finish(
        "Gone: lost, damaged or retired. Left: at hand now. Buy or cut the difference that "
        "you miss; cut wet, wipe up, the dust harms.");
}

labels::BarPlot losses_plot(Workshop& workshop, Inventory& inventory, const Season& season,
                            bool by_boat) {
    std::map<std::string, std::vector<int>> rows;
    for (const auto& loss : losses_of(workshop, inventory, season)) {
        auto name = by_boat ? boat_of(inventory, loss) : loss.class_name;
        if (name.empty()) name = by_boat ? "no boat" : "not known";
        auto& counts = rows.try_emplace(name, std::vector<int>(3, 0)).first->second;
        counts[0] += loss.lost;
        counts[1] += loss.damaged;
        counts[2] += loss.retired;
    }
    labels::BarPlot plot{"Gone" + days_of(season),
                         {"lost", "damaged", "retired"},
                         {},
                         "Things found again are left out."};
    for (auto& [name, counts] : rows) {
        if (counts[0] + counts[1] + counts[2] > 0) plot.rows.push_back({name, counts});
    }
    const auto sum = [](const labels::BarRow& row) {
        return row.counts[0] + row.counts[1] + row.counts[2];
    };
    std::ranges::stable_sort(plot.rows, std::ranges::greater{}, sum);
    constexpr std::size_t most = 60;
    if (plot.rows.size() > most) plot.rows.resize(most);
    return plot;
}

std::filesystem::path save_losses(Workshop& workshop, const Season& season) {
    const auto file = picture_place(workshop, "losses", {".csv"}).string() + ".csv";
    std::ostringstream rows;
    write_losses(workshop, season, rows, Format::csv);
    write_file(file, rows.str());
    return file;
}

}  // namespace coilbook::app
