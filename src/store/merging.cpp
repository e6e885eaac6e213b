#include "store/merging.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "catalog/coil_care.h"
#include "db/digest.h"
#include "db/raw_writing.h"
#include "store/picture_repository.h"
#include "store/replay.h"

namespace coilbook::store {
namespace {

struct Known {
    std::int64_t acts = 0;
    std::map<Id<Act>, std::string> seals;
};

Known known_in(const db::Database& database) {
    db::Statement list(database, R"sql(
        SELECT a.id, s.sha256 FROM act AS a LEFT JOIN seal AS s ON s.act = a.rid)sql");
    Known known;
    for (auto rows = list.rows(); rows.next();) {
        known.seals.emplace(id_at<Act>(rows.row(), "id"),
                            rows.row().optional_text("sha256").value_or(""));
    }
    known.acts = static_cast<std::int64_t>(known.seals.size());
    return known;
}

tl::unexpected<Problem> not_the_same(const ActNote& note) {
    return problem("act",
                   fmt::format("act {}, {}, is not the same in both: one of them was damaged or "
                               "changed by another program",
                               note.id.text(), coilbook::quoted(note.what, 100)),
                   "copies that 'coilbook check' finds sound");
}

// Of two copies of which one was pruned and the other not, what was pruned would come half back.
constexpr std::string_view prunings = R"sql(
    SELECT DISTINCT a.id, a.at_utc FROM change AS c JOIN act AS a ON a.rid = c.act
    WHERE c.thing_table = 'setting' AND c.thing = 'pruned' ORDER BY a.rid)sql";
bool is_pruning(const ActRecord& record) {
    return std::ranges::any_of(record.changes, [](const FieldChange& change) {
        return change.table == "setting" && change.thing == "pruned";
    });
}
tl::unexpected<Problem> pruned_apart(const char* which, Instant at) {
    return problem("OTHER",
                   fmt::format("{} was pruned on {} and the other was not", which, to_text(at)),
                   "merging before pruning, and then a copy of the pruned catalogue for the other "
                   "laptop");
}

std::optional<Problem> fault_of(const std::vector<Inspection>& inspections) {
    for (const auto& [what, wrong, is_damage] : inspections) {
        if (wrong.empty() || !is_damage) continue;
        return Problem{"act",
                       fmt::format("together they would not be sound: {}: {}", what, wrong.front()),
                       "copies that 'coilbook check' finds sound"};
    }
    return std::nullopt;
}

// The pieces of one picture after another, as they come from elsewhere.
class IncomingPicture {
  public:
    [[nodiscard]] bool is_of(std::string_view sha256) const { return sha256 == sha256_; }
    // REQUIRES: the picture that was there before was taken.
    void add(PicturePiece piece) {
        sha256_ = piece.sha256;
        is_in_order_ = is_in_order_ && std::cmp_equal(piece.position, pieces_.size()) &&
                       std::cmp_less_equal(size_ + piece.bytes.size(), largest_picture_bytes);
        if (!is_in_order_) return;
        size_ += piece.bytes.size();
        pieces_.push_back(std::move(piece));
    }
    // All of its pieces, none where there was no picture; nothing where it is another one than it
    // is called after. Nothing is left of it.
    [[nodiscard]] std::optional<std::vector<PicturePiece>> take() {
        auto before = std::exchange(*this, {});
        if (before.is_damaged()) return std::nullopt;
        return std::move(before.pieces_);
    }

  private:
    [[nodiscard]] bool is_damaged() const {
        if (sha256_.empty()) return false;
        db::Digest digest;
        for (const auto& piece : pieces_) digest.add_raw(piece.bytes);
        return !is_in_order_ || digest.finish() != sha256_;
    }
    std::string sha256_;
    std::vector<PicturePiece> pieces_;
    std::size_t size_ = 0;  // in bytes
    bool is_in_order_ = true;
};

}  // namespace

// What it needs of the catalogue's inside.
class Merging {
  public:
    Merging(Catalogue& catalogue, const MergeOptions& options)
        : catalogue_(catalogue),
          database_(catalogue.database()),
          options_(options),
          writer_(database_),
          lost_(lost_pictures(database_)) {}

    Result<Merged> run(ActSource& theirs) {
        const db::RawWriting raw(database_);
        db::Transaction transaction(database_);
        db::Statement list(database_, prunings);
        for (auto rows = list.rows(); rows.next();) {
            our_prunings_.emplace(id_at<Act>(rows.row(), "id"), instant_at(rows.row(), "at_utc"));
        }
        try {
            if (const auto taken = take_acts(transaction, theirs); !taken) {
                return tl::unexpected(taken.error());
            }
        } catch (const Error&) {  // what was pruned here is not there to be changed
            if (our_prunings_.empty() || !transaction.is_open()) throw;
        }
        if (!our_prunings_.empty() && (merged_.known > 0 || !merged_.came.empty())) {
            return pruned_apart("this catalogue", our_prunings_.begin()->second);
        }
        const auto persons = count_persons();
        if (first_new_) replay(database_, transaction, *first_new_);
        merged_.forgotten = static_cast<int>(persons - count_persons());
        for (const auto& person : theirs.persons()) {
            merged_.persons += writer_.add(transaction, person) ? 1 : 0;
        }
        if (merged_.came.empty() && merged_.persons + merged_.pictures_back == 0) return merged_;
        if (const auto fault = fault_of(catalogue_.audit())) return tl::unexpected(*fault);
        if (options_.is_dry_run) return merged_;
        if (options_.before_keeping) options_.before_keeping();
        transaction.commit();
        return merged_;
    }

    static db::Database& database_of(const Catalogue& catalogue) { return catalogue.database(); }

  private:
    std::int64_t count_persons() {
        db::Statement count(database_, "SELECT count(*) AS n FROM client_person");
        return count.first([](const db::Row& row) { return row.integer("n"); }).value_or(0);
    }

    Result<void> take_acts(db::Transaction& transaction, ActSource& theirs) {
        const auto known = known_in(database_);
        bool is_kin = known.acts == 0;
        bool has_any = false;
        for (;;) {
            const auto next = theirs.next();
            if (!next) return tl::unexpected(next.error());
            if (!*next) break;
            has_any = true;
            const auto here = known.seals.find((*next)->id);
            if (here != known.seals.end()) {
                if (here->second != (*next)->seal) return not_the_same(theirs.record().note);
                is_kin = true;
                ++merged_.known;
                our_prunings_.erase((*next)->id);
                if (lost_.empty()) continue;
                const auto taken = take_pictures(transaction, theirs, theirs.record());
                if (!taken) return taken;
                continue;
            }
            const auto record = theirs.record();
            if (is_pruning(record)) return pruned_apart("the other catalogue", record.note.at);
            for (const auto& seen : record.seen) is_kin = is_kin || known.seals.contains(seen);
            const auto act = writer_.add(transaction, record);
            if (!act) return tl::unexpected(act.error());
            if (const auto taken = take_pictures(transaction, theirs, record); !taken) return taken;
            if (!first_new_) first_new_ = *act;
            merged_.came.push_back(record.note);
        }
        if (is_kin || !has_any || options_.joins_strangers) return {};
        return problem("OTHER", "the two catalogues were made apart and have nothing in common",
                       "a copy of this catalogue; with --join the two become one nevertheless");
    }

    // A picture comes in whole and as it was, or not at all: bytes that are there stay for ever.
    Result<void> take_pictures(db::Transaction& transaction, ActSource& theirs,
                               const ActRecord& record) {
        IncomingPicture picture;
        for (;;) {
            auto piece = theirs.next_piece();
            if (!piece) return tl::unexpected(piece.error());
            if (!*piece || !picture.is_of((*piece)->sha256)) {
                const auto pieces = picture.take();
                if (!pieces) ++merged_.damaged_pictures;
                if (pieces) {
                    if (auto kept = keep(transaction, record, *pieces); !kept) return kept;
                }
            }
            if (!*piece) return {};
            picture.add(std::move(**piece));
        }
    }

    // All pieces of one picture.
    Result<void> keep(db::Transaction& transaction, const ActRecord& record,
                      const std::vector<PicturePiece>& pieces) {
        if (!pieces.empty() && lost_.erase(pieces.front().sha256) > 0) {
            db::Statement(database_, "DELETE FROM picture_piece WHERE sha256 = :sha256")
                .bind(":sha256", pieces.front().sha256)
                .run(transaction);
            ++merged_.pictures_back;
        }
        for (const auto& piece : pieces) {
            if (auto added = writer_.add(transaction, record, piece); !added) return added;
        }
        return {};
    }

    Catalogue& catalogue_;
    db::Database& database_;
    MergeOptions options_;
    ActWriter writer_;
    std::optional<std::int64_t> first_new_;
    Merged merged_;
    std::map<Id<Act>, Instant> our_prunings_;  // that theirs has not been seen to have
    std::set<std::string> lost_;               // pictures here, by their digests
};

Result<Merged> merge(Catalogue& catalogue, ActSource& theirs, const MergeOptions& options) {
    try {
        return Merging(catalogue, options).run(theirs);
    } catch (const Error& error) {
        throw error.during("merging");
    }
}

Result<Merged> merge(Catalogue& catalogue, const Catalogue& other, const MergeOptions& options) {
    const db::Snapshot one_moment(Merging::database_of(other));
    auto acts = acts_of(other);
    return merge(catalogue, acts, options);
}

RecordedActs acts_of(const Catalogue& catalogue) {
    return RecordedActs(Merging::database_of(catalogue));
}

}  // namespace coilbook::store
