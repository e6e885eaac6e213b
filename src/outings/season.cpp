#include "outings/season.h"

#include <algorithm>
#include <map>
#include <utility>

namespace coilbook {

std::vector<SeasonLoss> season_losses(std::span<const Handover> record, Instant from, Instant until,
                                      const std::function<std::string(const Thing&)>& class_of) {
    struct Fate {
        std::optional<Id<Boat>> lost_from;
        bool was_lost = false;
        Place last;
        bool happened = false;  // within the season
    };
    std::map<Thing, Fate> fates;
    for (const auto& handover : record) {
        if (handover.at >= until) continue;
        auto& fate = fates[handover.thing];
        const bool is_in_season = handover.at >= from;
        fate.last = handover.to;
        fate.happened = is_in_season;
        if (handover.to.where == Whereabouts::lost && is_in_season) {
            fate.was_lost = true;
            fate.lost_from = handover.to.boat;
        }
    }
    std::map<std::pair<std::optional<Id<Boat>>, std::string>, SeasonLoss> rows;
    const auto row = [&](const std::optional<Id<Boat>>& boat, const Thing& thing) -> SeasonLoss& {
        const auto name = class_of(thing);
        auto& found = rows[{boat, name}];
        found.boat = boat;
        found.class_name = name;
        return found;
    };
    for (const auto& [thing, fate] : fates) {
        const bool is_lost = fate.last.where == Whereabouts::lost;
        if (fate.was_lost) {
            auto& loss = row(fate.lost_from, thing);
            (is_lost ? loss.lost : loss.found) += 1;
        }
        if (!fate.happened) continue;
        if (fate.last.where == Whereabouts::damaged) ++row(fate.last.boat, thing).damaged;
        if (fate.last.where == Whereabouts::retired) ++row(fate.last.boat, thing).retired;
    }
    std::vector<SeasonLoss> losses;
    for (auto& [key, loss] : rows) losses.push_back(std::move(loss));
    return losses;
}

std::vector<ToReplace> to_replace(const std::vector<SeasonLoss>& losses) {
    std::map<std::string, int> counts;
    for (const auto& loss : losses) {
        const int gone = loss.lost + loss.damaged + loss.retired;
        if (gone > 0) counts[loss.class_name] += gone;
    }
    std::vector<ToReplace> classes;
    for (const auto& [name, count] : counts) classes.push_back({name, count});
    std::ranges::stable_sort(classes, std::ranges::greater{}, &ToReplace::count);
    return classes;
}

}  // namespace coilbook
