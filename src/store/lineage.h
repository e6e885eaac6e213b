// Who knew of whom: whether an act had seen another one when it was done.
//
// Acts that were done one after another on one computer form a chain. What an act has seen is, of
// each chain, everything up to some place; so the whole past of an act is a few numbers, kept only
// where chains come together.
#pragma once

#include <cstdint>
#include <vector>

#include "db/database.h"

namespace coilbook::store {

class Lineage {
  public:
    // Of the acts that are there now, by their row numbers. Throws Error.
    explicit Lineage(const db::Database& database);

    // Whether the one knew of the other, or is it.
    [[nodiscard]] bool has_seen(std::int64_t later, std::int64_t earlier) const;
    // Whether neither knew of the other.
    [[nodiscard]] bool are_apart(std::int64_t one, std::int64_t other) const;
    // The first act of which a later one did not know; nothing is apart before it. Higher than all
    // where every act knew of all before it.
    [[nodiscard]] std::int64_t first_apart() const { return first_apart_; }

  private:
    struct Place {
        std::int64_t rid;
        std::size_t chain;
        std::size_t at;    // in its chain
        std::size_t past;  // in pasts_; of acts between two meetings it is the same
    };
    using Past = std::vector<std::size_t>;  // how many acts of each chain

    [[nodiscard]] const Place& place_of(std::int64_t rid) const;
    [[nodiscard]] std::size_t seen_of(const Past& past, std::size_t chain) const;
    void add(std::int64_t rid, const std::vector<std::int64_t>& seen);
    void look_for_gaps(std::size_t index);

    std::vector<Place> places_;                     // by row number
    std::vector<std::vector<std::size_t>> chains_;  // of each the indexes into places_
    std::vector<Past> pasts_;
    std::int64_t first_apart_ = 0;
};

}  // namespace coilbook::store
