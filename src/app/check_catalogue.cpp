#include "app/check_catalogue.h"

#include <fmt/format.h>

#include "app/conflict_rows.h"
#include "app/find.h"
#include "store/catalogue.h"
#include "store/conflicts.h"

namespace coilbook::app {
namespace {

std::vector<store::Inspection> inspections_of(const std::filesystem::path& file) {
    std::string damage;
    try {
        return store::Catalogue::open(file).audit();
    } catch (const db::Damage& found) {
        damage = found.what();
    }
    std::vector<store::Inspection> inspections{{"opening", {damage}}};
    try {
        for (auto& inspection : store::Catalogue::open_damaged(file).audit()) {
            inspections.push_back(std::move(inspection));
        }
    } catch (const Error& error) {
        inspections.push_back({"the tables", {std::string("cannot be read: ") + error.what()}});
    }
    return inspections;
}

// What is to be settled in a file that opens. One that is too damaged for that has other troubles.
std::string to_settle_in(const std::filesystem::path& file) {
    try {
        if (store::Catalogue::open(file).conflicts().list().empty()) return "";
        auto workshop = Workshop::open(file, real_surroundings("coilbook"));
        return what_is_to_settle(workshop, "'coilbook conflicts list'");
    } catch (const Error&) {
        return "";
    }
}

}  // namespace

std::string what_is_to_settle(Workshop& workshop, std::string_view shown_by) {
    constexpr std::size_t most = 20;
    const auto conflicts = conflicts_of(workshop);
    if (conflicts.empty()) return "";
    std::string text = fmt::format("{} {} to be settled after a merge, see {}:", conflicts.size(),
                                   conflicts.size() == 1 ? "thing is" : "things are", shown_by);
    for (std::size_t at = 0; at < conflicts.size() && at < most; ++at) {
        const auto& [id, kind, thing, field, choices] = conflicts[at];
        text += fmt::format("{} {}, {}", at == 0 ? "" : ";", thing, field);
    }
    if (conflicts.size() > most) text += fmt::format("; and {} more", conflicts.size() - most);
    return text;
}

bool check_catalogue(const std::filesystem::path& file, std::ostream& out, Format format,
                     std::size_t terminal_width) {
    const auto inspections = inspections_of(file);
    RowWriter writer(out, {{"inspected"}, {"state"}, {"detail"}}, format, terminal_width);
    bool is_sound = true;
    for (const auto& [what, wrong, is_damage] : inspections) {
        if (wrong.empty()) writer.add({what, std::string("fine"), Cell{}});
        for (const auto& sentence : wrong) writer.add({what, std::string("wrong"), sentence});
        is_sound = is_sound && wrong.empty();
    }
    if (const auto what = is_sound ? to_settle_in(file) : ""; !what.empty()) {
        writer.add({std::string("to be settled"), std::string("fine"), what});
    }
    if (const auto wrong = discard_damaged_index(file); !wrong.empty()) {
        writer.add({std::string("the search index"), std::string("fine"),
                    "it was damaged and is thrown away; the next search makes it anew: " + wrong});
    }
    writer.finish(is_sound ? "The catalogue is sound."
                           : "Keep a copy of the file; then 'coilbook restore' goes back to a "
                             "backup, and 'coilbook salvage' brings out what can be read.");
    return is_sound;
}

std::vector<store::Inspection> look_through(Workshop& workshop) {
    auto& progress = workshop.progress();
    progress.begin("Looking the catalogue through");
    const auto breakable = workshop.catalogue().breaks_off_when_unwanted();
    return workshop.catalogue().audit([&](double part) { progress.reached(part); });
}

}  // namespace coilbook::app
