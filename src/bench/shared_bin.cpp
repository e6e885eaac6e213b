#include "bench/shared_bin.h"

#include <map>
#include <utility>

namespace coilbook::bench {

using Clock = std::chrono::steady_clock;

SharedBin::SharedBin(app::Workshop& workshop) : workshop_(workshop) {
    refresh();
}

// Lines that were known keep their words until their turn comes again, so that nothing flickers.
void SharedBin::read_lines() {
    std::map<Id<Coil>, BinLine> known;
    for (BinLine& line : lines_) {
        const Id<Coil> coil = line.coil;
        if (line.is_known) known.emplace(coil, std::move(line));
    }
    lines_.clear();
    lines_.reserve(bin_.size());
    for (std::size_t at = 0; at < bin_.size(); ++at) {
        const Coil& coil = bin_.entry(at).coil;
        const auto old = known.find(coil.id);
        lines_.push_back(line_of(coil, old == known.end() ? nullptr : &old->second.summary));
        if (old == known.end()) continue;
        lines_.back().group = old->second.group;
        lines_.back().group_size = old->second.group_size;
    }
    next_unknown_ = 0;
    ++edition_;
    ++lines_edition_;
}

void SharedBin::refresh() {
    workshop_.progress().begin("Reading the bin anew");
    bin_.refresh(workshop_);
    read_lines();
}

void SharedBin::refresh(const Id<Coil>& coil) {
    const auto before = bin_.find(coil);
    const auto [now, same_library] = bin_.refresh(workshop_, coil);
    if (before != now) return read_lines();
    if (!same_library) next_unknown_ = 0;
    ++edition_;
    ++lines_edition_;
    if (!now) return;
    BinLine line = line_of(bin_.entry(*now).coil, &bin_.summary(*now));
    line.group = lines_[*now].group;
    line.group_size = lines_[*now].group_size;
    lines_[*now] = std::move(line);
}

void SharedBin::follow() {
    if (bin_.refresh_if_changed(workshop_)) read_lines();
}

void SharedBin::show_in(const Units& units) {
    if (units == *units_) return;
    units_ = &other_than(*units_);
    bin_.speak_in(units);
    ++edition_;
    ++lines_edition_;
}

void SharedBin::ask(const Question& question) {
    if (bin_.ask(question)) next_unknown_ = 0;
}

void SharedBin::put_groups(const std::vector<Place>& places) {
    for (std::size_t at = 0; at < lines_.size(); ++at) {
        const Place place = at < places.size() ? places[at] : Place{};
        lines_[at].group = place.group;
        lines_[at].group_size = place.group_size;
    }
    ++lines_edition_;
}

void SharedBin::work_out(std::size_t at) {
    BinLine& line = lines_[at];
    line.summary = bin_.summary(at);
    line.is_known = true;
    line.text = searchable(line);
    ++lines_edition_;
}

void SharedBin::work_out(std::chrono::milliseconds budget) {
    const auto end = Clock::now() + budget;
    while (is_busy() && Clock::now() < end) work_out(next_unknown_++);
}

}  // namespace coilbook::bench
