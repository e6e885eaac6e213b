#include "app/bin.h"

#include <algorithm>

#include "app/verdict_rows.h"
#include "identify/identify.h"

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

void Bin::refresh(Workshop& workshop) {
    const auto data_version = workshop.catalogue().data_version();
    auto entries = workshop.catalogue().readings().bin();  // may throw: then nothing has changed
    const bool same_library =
        library_.classes() == workshop.library() && instruments_ == workshop.instruments();
    if (!same_library) {
        library_ = PreparedLibrary(workshop.library());
        instruments_ = workshop.instruments();
    }
    std::vector<Row> rows;
    std::map<Id<Coil>, std::size_t> places;
    rows.reserve(entries.size());
    for (auto& entry : entries) {
        Row row{std::move(entry), {}};
        const auto old = places_.find(row.entry.coil.id);
        if (same_library && old != places_.end()) {
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
    const auto found = std::ranges::find(
        rows_, code, [](const Row& row) { return std::string_view(row.entry.coil.code); });
    if (found == rows_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - rows_.begin());
}

void Bin::ask(const Question& question) {
    if (question == question_) return;
    question_ = question;
    told_.reset();
    for (auto& row : rows_) row.summary.reset();  // their advice is for another question
}

Verdict Bin::judged(const store::BinEntry& entry, bool in_words) const {
    Inquiry inquiry;
    inquiry.question = question_;
    inquiry.in_words = in_words;
    auto verdict = Identifier(library_, instruments_).verdict_on(entry.readings, inquiry);
    if (!verdict) throw Error("coil " + entry.coil.code + ": " + to_line(verdict.error()));
    return std::move(*verdict);
}

CoilSummary Bin::summed_up(const store::BinEntry& entry, const Verdict& verdict) const {
    CoilSummary summary;
    const bool is_measured = std::ranges::any_of(
        all_reading_fields, [&](ReadingField field) { return has(entry.readings, field); });
    if (is_measured) {
        const auto& best = library_[verdict.best()];
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
