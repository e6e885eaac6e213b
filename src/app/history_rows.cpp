#include "app/history_rows.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "app/undo.h"
#include "base/text.h"

namespace coilbook::app {
namespace {

exchange::Json json_of(const db::Value& value) {
    if (const auto* integer = std::get_if<std::int64_t>(&value)) return *integer;
    if (const auto* real = std::get_if<double>(&value)) return *real;
    if (const auto* text = std::get_if<std::string>(&value)) return *text;
    return nullptr;
}

exchange::Json changed_json(Workshop& workshop, const Id<store::Act>& act) {
    auto array = exchange::Json::array();
    for (const auto& change : workshop.catalogue().history().changes_of(act)) {
        array.push_back({{"thing", change.table},
                         {"id", change.thing},
                         {"field", change.field},
                         {"was", json_of(change.was)},
                         {"became", json_of(change.became)}});
    }
    return {{"changed", std::move(array)}};
}

// How many characters of their ids tell all acts of the catalogue apart; at least ten, which are
// the moment, so that a short id stays right for a while.
std::size_t telling_length(Workshop& workshop) {
    std::vector<std::string> ids;
    for (const auto& entry : workshop.catalogue().history().list()) {
        ids.push_back(entry.note.id.text());
    }
    std::ranges::sort(ids);
    std::size_t length = 10;
    for (std::size_t at = 1; at < ids.size(); ++at) {
        const auto differs = std::ranges::mismatch(ids[at - 1], ids[at]).in1 - ids[at - 1].begin();
        length = std::max(length, static_cast<std::size_t>(differs) + 1);
    }
    return length;
}

// "2026-11-25 09:34:35", as people write it.
std::string minute_of(Instant at) {
    auto text = to_text(at).substr(0, 19);
    text[10] = ' ';
    return text;
}

}  // namespace

Result<void> write_history(Workshop& workshop, const std::optional<std::string>& code, int limit,
                           std::ostream& out, Format format, std::size_t terminal_width) {
    const auto entries = history(workshop, code, limit);
    if (code && entries.empty()) {
        return problem("code", "there never was a coil " + coilbook::quoted(*code),
                       "a code that stands in the history");
    }
    if (format == Format::table) {
        std::set<std::string> laptops;
        for (const auto& entry : entries) laptops.insert(entry.note.laptop);
        RowWriter writer(out,
                         {{"when (UTC)", false, 4, 3},
                          {laptops.size() > 1 ? "who, where" : "who", false, 4, 4},
                          {"what"},
                          {"why", false, 4, 2},
                          {"state"},
                          {"id", false, 4, 1}},
                         format, terminal_width);
        const auto length = telling_length(workshop);
        for (const auto& entry : entries) {
            const auto& note = entry.note;
            const bool tells_laptop = laptops.size() > 1 && !note.laptop.empty();
            writer.add({minute_of(note.at),
                        cell_of(tells_laptop ? note.who + ", " + note.laptop : note.who), note.what,
                        cell_of(note.why), std::string(name_of(entry.state)),
                        note.id.text().substr(0, length)});
        }
        writer.finish("'coilbook undo ID' takes an act back.");
        return {};
    }
    RowWriter writer(out,
                     {{"id"},
                      {"at"},
                      {"who"},
                      {"program"},
                      {"what"},
                      {"why"},
                      {"changes", true},
                      {"state"},
                      {"undoes"},
                      {"laptop"}},
                     format);
    for (const auto& entry : entries) {
        const auto& note = entry.note;
        const std::vector<Cell> cells{note.id.text(),
                                      to_text(note.at),
                                      cell_of(note.who),
                                      note.program,
                                      note.what,
                                      cell_of(note.why),
                                      std::int64_t{entry.changes},
                                      std::string(name_of(entry.state)),
                                      cell_of(entry.undoes ? entry.undoes->text() : ""),
                                      cell_of(note.laptop)};
        writer.add(cells,
                   format == Format::json ? changed_json(workshop, note.id) : exchange::Json{});
    }
    writer.finish();
    return {};
}

}  // namespace coilbook::app
