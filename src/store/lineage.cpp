#include "store/lineage.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "base/error.h"
#include "db/statement.h"

namespace coilbook::store {

Lineage::Lineage(const db::Database& database)
    : first_apart_(std::numeric_limits<std::int64_t>::max()) {
    db::Statement list(database, R"sql(
        SELECT a.rid, s.seen FROM act AS a LEFT JOIN seen AS s ON s.act = a.rid
        ORDER BY a.rid, s.seen)sql");
    std::optional<std::int64_t> act;
    std::vector<std::int64_t> seen;
    for (auto rows = list.rows(); rows.next();) {
        const auto rid = rows.row().integer("rid");
        if (act && *act != rid) {
            add(*act, seen);
            seen.clear();
        }
        act = rid;
        if (const auto one = rows.row().optional_integer("seen")) seen.push_back(*one);
    }
    if (act) add(*act, seen);
}

const Lineage::Place& Lineage::place_of(std::int64_t rid) const {
    const auto found = std::ranges::lower_bound(places_, rid, {}, &Place::rid);
    if (found == places_.end() || found->rid != rid) {
        throw Error("the history has no act number " + std::to_string(rid));
    }
    return *found;
}

std::size_t Lineage::seen_of(const Past& past, std::size_t chain) const {
    return chain < past.size() ? past[chain] : 0;
}

void Lineage::add(std::int64_t rid, const std::vector<std::int64_t>& seen) {
    Place place{.rid = rid, .chain = chains_.size(), .at = 0, .past = 0};
    for (const auto each : seen) {
        const auto& before = place_of(each);
        if (before.at + 1 == chains_[before.chain].size()) {  // the end of its chain: go on with it
            place.chain = before.chain;
            break;
        }
    }
    if (place.chain == chains_.size()) chains_.emplace_back();
    place.at = chains_[place.chain].size();
    if (seen.size() == 1 && place.at > 0) {
        place.past = place_of(seen.front()).past;
    } else {
        Past past;
        for (const auto each : seen) {
            const auto& before = place_of(each);
            const auto& known = pasts_[before.past];
            past.resize(std::max({past.size(), known.size(), before.chain + 1}));
            for (std::size_t chain = 0; chain < known.size(); ++chain) {
                past[chain] = std::max(past[chain], known[chain]);
            }
            past[before.chain] = std::max(past[before.chain], before.at + 1);
        }
        place.past = pasts_.size();
        pasts_.push_back(std::move(past));
    }
    chains_[place.chain].push_back(places_.size());
    places_.push_back(place);
    look_for_gaps(places_.size() - 1);
}

// The first of the acts before this one that it has not seen, if that is the first of all.
void Lineage::look_for_gaps(std::size_t index) {
    const auto& place = places_[index];
    const auto& past = pasts_[place.past];
    for (std::size_t chain = 0; chain < chains_.size(); ++chain) {
        if (chain == place.chain) continue;
        const auto next = seen_of(past, chain);
        if (next >= chains_[chain].size()) continue;
        const auto unseen = chains_[chain][next];
        if (unseen < index) first_apart_ = std::min(first_apart_, places_[unseen].rid);
    }
}

bool Lineage::has_seen(std::int64_t later, std::int64_t earlier) const {
    const auto& one = place_of(later);
    const auto& other = place_of(earlier);
    if (one.chain == other.chain) return other.at <= one.at;
    return seen_of(pasts_[one.past], other.chain) > other.at;
}

bool Lineage::are_apart(std::int64_t one, std::int64_t other) const {
    return !has_seen(one, other) && !has_seen(other, one);
}

}  // namespace coilbook::store
