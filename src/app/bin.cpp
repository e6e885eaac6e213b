#include "app/bin.h"

#include <algorithm>

#include "app/verdict_rows.h"
#include "identify/identify.h"
#include "identify/prepared_library.h"

namespace coilbook::app {

std::string_view name_of(CoilState state) {
    switch (state) {
        case CoilState::unmeasured:
            return "unmeasured";
        case CoilState::needs_reading:
            return "needs a reading";
        case CoilState::ready:
            return "ready to confirm";
        case CoilState::confirmed:
            return "confirmed";
    }
    return "?";
}

Bin::Bin() : library_(std::make_shared<const PreparedLibrary>(ReferenceLibrary{})) {}

const ReferenceLibrary& Bin::library() const {
    return library_->classes();
}

bool Bin::follow_library(const Workshop& workshop) {
    if (library_->classes() == workshop.library() && instruments_ == workshop.instruments()) {
        return true;
    }
    library_ = std::make_shared<const PreparedLibrary>(workshop.library());
    instruments_ = workshop.instruments();
    told_.reset();
    for (auto& row : rows_) row.summary.reset();
    return false;
}

void Bin::refresh(Workshop& workshop) {
    const auto data_version = workshop.catalogue().data_version();
    auto entries = workshop.catalogue().readings().bin();  // may throw: then nothing has changed
    follow_library(workshop);
    std::vector<Row> rows;
    std::map<Id<Coil>, std::size_t> places;
    rows.reserve(entries.size());
    for (auto& entry : entries) {
        Row row{std::move(entry), {}};
        const auto old = places_.find(row.entry.coil.id);
        if (old != places_.end()) {
            Row& known = rows_[old->second];
            if (known.entry.readings == row.entry.readings &&
                known.entry.confirmed_class == row.entry.confirmed_class) {
                row.summary = std::move(known.summary);
            }
        }
        places.emplace_hint(places.end(), row.entry.coil.id, rows.size());
        rows.push_back(std::move(row));
    }
    rows_ = std::move(rows);
    places_ = std::move(places);
    told_.reset();
    data_version_ = data_version;
}

Bin::Refreshed Bin::refresh(Workshop& workshop, const Id<Coil>& coil) {
    auto entry = workshop.catalogue().readings().bin_entry(coil);  // may throw: nothing has changed
    const bool same_library = follow_library(workshop);
    if (told_ && told_->coil == coil) told_.reset();
    const auto old = places_.find(coil);
    if (old != places_.end() && entry && rows_[old->second].entry.coil.code == entry->coil.code) {
        rows_[old->second] = Row{std::move(*entry), {}};
        return {old->second, same_library};
    }
    std::size_t first_moved = rows_.size();
    if (old != places_.end()) {
        first_moved = old->second;
        rows_.erase(rows_.begin() + static_cast<std::ptrdiff_t>(first_moved));
        places_.erase(old);
    }
    std::optional<std::size_t> at;
    if (entry) {
        const auto place = std::ranges::upper_bound(
            rows_, entry->coil.code, {}, [](const Row& row) { return row.entry.coil.code; });
        at = static_cast<std::size_t>(place - rows_.begin());
        rows_.insert(place, Row{std::move(*entry), {}});
        first_moved = std::min(first_moved, *at);
    }
    put_places(first_moved);
    return {at, same_library};
}

// Where the rows from there on are.
void Bin::put_places(std::size_t from) {
    for (std::size_t at = from; at < rows_.size(); ++at) {
        places_.insert_or_assign(rows_[at].entry.coil.id, at);
    }
}

bool Bin::refresh_if_changed(Workshop& workshop) {
    if (workshop.catalogue().data_version() == data_version_) return false;
    workshop.refresh();
    refresh(workshop);
    return true;
}

std::optional<std::size_t> Bin::find(const Id<Coil>& id) const {
    const auto found = places_.find(id);
    if (found == places_.end()) return std::nullopt;
    return found->second;
}

std::optional<std::size_t> Bin::find_code(std::string_view code) const {
    const auto code_of = [](const Row& row) { return std::string_view(row.entry.coil.code); };
    const auto found = std::ranges::lower_bound(rows_, code, {}, code_of);
    if (found == rows_.end() || code_of(*found) != code) return std::nullopt;
    return static_cast<std::size_t>(found - rows_.begin());
}

bool Bin::ask(const Question& question) {
    if (question == question_) return false;
    question_ = question;
    told_.reset();
    for (auto& row : rows_) row.summary.reset();  // their advice is for another question
    return true;
}

void Bin::speak_in(const Units& units) {
    if (units == units_) return;
    units_ = units;
    told_.reset();
}

Verdict Bin::judged(const store::BinEntry& entry, bool in_words) const {
    if (const auto fit = check_library(*library_); !fit) throw Error(to_line(fit.error()));
    Inquiry inquiry;
    inquiry.question = question_;
    inquiry.in_words = in_words;
    inquiry.units = units_;
    auto verdict = Identifier(*library_, instruments_).verdict_on(entry.readings, inquiry);
    if (!verdict) throw Error("coil " + entry.coil.code + ": " + to_line(verdict.error()));
    return std::move(*verdict);
}

CoilSummary Bin::summed_up(const store::BinEntry& entry, const Verdict& verdict) const {
    CoilSummary summary;
    const bool is_measured = std::ranges::any_of(
        all_reading_fields, [&](ReadingField field) { return has(entry.readings, field); });
    if (is_measured) {
        const auto& best = (*library_)[verdict.best()];
        const bool is_ready = verdict.flags.empty() && best.family != Family::unlisted;
        summary.state = is_ready ? CoilState::ready : CoilState::needs_reading;
        summary.share = verdict.probabilities[verdict.best()];
        summary.label = {best.name, percent(summary.share)};
        summary.facts = verdict.facts;
        if (!verdict.enough && !verdict.advice.empty()) {
            summary.next_reading = verdict.advice.front().field;
        }
    }
    if (entry.confirmed_class) {
        summary.state = CoilState::confirmed;
        summary.share = 1.0;
        summary.label = {*entry.confirmed_class, {}};
        summary.next_reading.reset();
    }
    return summary;
}

const Verdict& Bin::verdict(std::size_t at) {
    Row& row = rows_[at];
    if (!told_ || told_->coil != row.entry.coil.id) {
        told_ = {row.entry.coil.id, judged(row.entry, true)};
        if (!row.summary) row.summary = summed_up(row.entry, told_->verdict);
    }
    return told_->verdict;
}

const CoilSummary& Bin::summary(std::size_t at) {
    Row& row = rows_[at];
    if (!row.summary) row.summary = summed_up(row.entry, judged(row.entry, false));
    return *row.summary;
}

}  // namespace coilbook::app
