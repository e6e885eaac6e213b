#include "app/bin.h"

#include <algorithm>
#include <map>

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
    std::map<Id<Coil>, Row> kept;
    if (same_library) {
        for (auto& row : rows_) kept.emplace(row.entry.coil.id, std::move(row));
    } else {
        library_ = PreparedLibrary(workshop.library());
        instruments_ = workshop.instruments();
    }
    rows_.clear();
    for (auto& entry : entries) {
        Row row{std::move(entry), {}, {}};
        const auto old = kept.find(row.entry.coil.id);
        if (old != kept.end() && old->second.entry.readings == row.entry.readings) {
            row.verdict = std::move(old->second.verdict);
            row.asked = old->second.asked;
        }
        rows_.push_back(std::move(row));
    }
    data_version_ = data_version;
}

bool Bin::refresh_if_changed(Workshop& workshop) {
    if (workshop.catalogue().data_version() == data_version_) return false;
    workshop.refresh();
    refresh(workshop);
    return true;
}

std::optional<std::size_t> Bin::find(const Id<Coil>& id) const {
    const auto found =
        std::ranges::find(rows_, id, [](const Row& row) { return row.entry.coil.id; });
    if (found == rows_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - rows_.begin());
}

std::optional<std::size_t> Bin::find_code(std::string_view code) const {
    const auto found = std::ranges::find(
        rows_, code, [](const Row& row) { return std::string_view(row.entry.coil.code); });
    if (found == rows_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - rows_.begin());
}

const Verdict& Bin::verdict(std::size_t at) {
    Row& row = rows_[at];
    if (row.verdict && row.asked != question_) row.verdict.reset();
    return verdict_on_any_question(at);
}

const Verdict& Bin::verdict_on_any_question(std::size_t at) {
    Row& row = rows_[at];
    if (!row.verdict) {
        Inquiry inquiry;
        inquiry.question = question_;
        auto verdict = Identifier(library_, instruments_).verdict_on(row.entry.readings, inquiry);
        if (!verdict) throw Error("coil " + row.entry.coil.code + ": " + to_line(verdict.error()));
        row.verdict = std::move(*verdict);
        row.asked = question_;
    }
    return *row.verdict;
}

CoilState Bin::state(std::size_t at) {
    const auto& entry = rows_[at].entry;
    if (entry.confirmed_class) return CoilState::confirmed;
    const CoilReadings& readings = entry.readings;
    const bool any = std::ranges::any_of(all_reading_fields,
                                         [&](ReadingField field) { return has(readings, field); });
    if (!any) return CoilState::unmeasured;
    const auto& answer = verdict_on_any_question(at);
    const bool is_listed = library_[answer.best()].family != Family::unlisted;
    return answer.flags.empty() && is_listed ? CoilState::ready : CoilState::needs_reading;
}

CoilLabel Bin::label(std::size_t at) {
    const auto coil_state = state(at);
    if (coil_state == CoilState::unmeasured) return {};
    if (coil_state == CoilState::confirmed) return {*rows_[at].entry.confirmed_class, {}};
    const auto& answer = verdict_on_any_question(at);
    return {library_[answer.best()].name, percent(answer.probabilities[answer.best()])};
}

}  // namespace coilbook::app
