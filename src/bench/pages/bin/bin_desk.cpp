#include "bench/pages/bin/bin_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/groups.h"
#include "app/labels.h"
#include "app/outfit.h"
#include "app/pace.h"
#include "app/rigs.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/going_back.h"
#include "bench/widgets/field.h"
#include "bench/words.h"

namespace coilbook::bench::bin_page {
namespace {

using Clock = std::chrono::steady_clock;

// While what the lines say is still being worked out, they are not sorted anew all the time.
constexpr std::chrono::milliseconds sorted_every{300};

}  // namespace

Desk::Desk(SharedBin& shared) : shared_(shared) {}

const View& Desk::view() {
    if (edition_ != shared_.edition()) look_round({});  // where it cannot be read the page says so
    if (is_stale_ || form_ != form_shown_) {
        view_ = made_view();
        form_shown_ = form_;
        is_stale_ = false;
    }
    return view_;
}

bool Desk::act() {
    const bool any = carry_out(
        outbox_, [this](const auto& each) { run(each); },
        [this](const Error& error) { failure_ = error.what(); });
    if (any) is_stale_ = true;
    return any;
}

void Desk::say_failure(const std::string& words) {
    failure_ = words;
    is_stale_ = true;
}

bool Desk::look_round(std::chrono::milliseconds budget) {
    bool changed = false;
    try {
        shared_.follow();
        if (shared_.edition() != edition_) {
            read_lines();
            changed = true;
        }
        shared_.work_out(budget);
        if (is_grouping() &&
            finding_groups_.wait_for(std::chrono::seconds{0}) == std::future_status::ready) {
            groups_ = finding_groups_.get();
            put_groups();
            changed = true;
        }
    } catch (const Error& error) {
        failure_ = error.what();
        changed = true;
    }
    if (shared_.lines_edition() != lines_edition_) changed = true;
    lines_edition_ = shared_.lines_edition();
    if (changed) is_stale_ = rows_are_stale_ = true;
    return changed;
}

std::optional<Id<Coil>> Desk::take_trip() {
    return std::exchange(trip_, std::nullopt);
}

void Desk::refresh() {
    shared_.refresh();
    read_lines();
}

void Desk::read_lines() {
    edition_ = shared_.edition();
    if (shared_.units() != *units_) {
        form_.looked_for = with_unit_said(form_.looked_for, *units_);
        form_.is_rewritten = true;
        units_ = &shared_.units();
    }
    // What was retired meanwhile is ticked no more.
    std::erase_if(form_.ticked, [this](const auto& coil) { return !shared_.bin().find(coil); });
    pace_ = app::pace(shared_.workshop());
    if (groups_) run(FindGroups{});
    read_hand_places();
    rows_found_ = {};  // the rows shown are of lines that may have moved: they are due at once
    is_stale_ = rows_are_stale_ = true;
}

void Desk::put_groups() {
    std::map<std::string_view, SharedBin::Place> place;
    for (std::size_t number = 0; number < groups_->size(); ++number) {
        const auto& codes = (*groups_)[number].group.codes;
        for (const auto& code : codes) place[code] = {number + 1, codes.size()};
    }
    std::vector<SharedBin::Place> places;
    for (const BinLine& line : lines()) {
        const auto found = place.find(line.code);
        const bool is_one_of_several = found != place.end() && found->second.group_size > 1;
        places.push_back(is_one_of_several ? found->second : SharedBin::Place{});
    }
    shared_.put_groups(places);
}

void Desk::find_rows() {
    const Wanted wanted = wanted_from(form_.looked_for, form_.state, shared_.units());
    const bool is_asked = wanted != rows_wanted_ || form_.order != rows_order_;
    const bool is_due =
        rows_are_stale_ && (!shared_.is_busy() || Clock::now() - rows_found_ > sorted_every);
    if (!is_asked && !is_due) return;
    rows_ = found(lines(), wanted, form_.order);
    rows_wanted_ = wanted;
    rows_order_ = form_.order;
    rows_are_stale_ = false;
    rows_found_ = Clock::now();
    if (!row_at()) {
        form_.at = rows_.empty() ? std::optional<Id<Coil>>() : lines()[rows_.front()].coil;
        form_.scrolls = true;
    }
}

std::optional<std::size_t> Desk::row_at() const {
    if (!form_.at) return std::nullopt;
    const auto found = std::ranges::find(rows_, *form_.at,
                                         [this](std::size_t line) { return lines()[line].coil; });
    if (found == rows_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - rows_.begin());
}

const BinLine* Desk::line_at() const {
    const auto row = row_at();
    return row ? &lines()[rows_[*row]] : nullptr;
}

void Desk::tick_this() {
    if (line_at() == nullptr) return;
    if (form_.ticked.erase(*form_.at) == 0) form_.ticked.insert(*form_.at);
}

void Desk::tick_all_shown() {
    const bool all_are = std::ranges::all_of(
        rows_, [this](std::size_t line) { return form_.ticked.contains(lines()[line].coil); });
    for (const auto line : rows_) {
        if (all_are) {
            form_.ticked.erase(lines()[line].coil);
        } else {
            form_.ticked.insert(lines()[line].coil);
        }
    }
}

void Desk::step(std::ptrdiff_t rows) {
    if (rows_.empty()) return;
    const auto now = static_cast<std::ptrdiff_t>(row_at().value_or(0));
    const auto next = std::clamp<std::ptrdiff_t>(now + rows, 0, std::ssize(rows_) - 1);
    go_to(form_, lines()[rows_[static_cast<std::size_t>(next)]].coil);
}

std::vector<std::size_t> Desk::to_be_confirmed() const {
    std::vector<std::size_t> chosen;
    for (std::size_t at = 0; at < lines().size(); ++at) {
        const BinLine& line = lines()[at];
        const bool is_meant =
            form_.ticked.empty() ? form_.at == line.coil : form_.ticked.contains(line.coil);
        if (is_meant && line.is_known && line.summary.state == app::CoilState::ready) {
            chosen.push_back(at);
        }
    }
    return chosen;
}

void Desk::run(const TakeToTheBench& command) {
    trip_ = command.coil;
}

void Desk::run(const ConfirmReady&) {
    std::vector<app::CoilAndClass> chosen;
    for (const auto at : to_be_confirmed()) {
        chosen.push_back({shared_.bin().entry(at).coil, lines()[at].summary.label.name});
    }
    if (chosen.empty()) {
        message_ = "None of them is ready to confirm.";
        return;
    }
    const auto done = chosen.size() == 1 ? app::confirm_coil(shared_.workshop(), chosen[0].coil,
                                                             chosen[0].class_name)
                                         : app::confirm_coils(shared_.workshop(), chosen);
    if (!done) {
        failure_ = words_of(done.error());
        return;
    }
    form_.ticked.clear();
    message_ = chosen.size() == 1
                   ? fmt::format("Confirmed: {} is {}", chosen[0].coil.code, chosen[0].class_name)
                   : fmt::format("Confirmed: {}", coils(chosen.size()));
    refresh();
}

std::vector<std::string> Desk::codes_meant() const {
    std::vector<std::string> codes;
    for (const BinLine& line : lines()) {
        const bool is_meant =
            form_.ticked.empty() ? form_.at == line.coil : form_.ticked.contains(line.coil);
        if (is_meant) codes.push_back(line.code);
    }
    return codes;
}

void Desk::read_hand_places() {
    hand_places_.clear();
    for (const Boat& boat : app::boats(shared_.workshop())) {
        hand_places_.push_back({boat.name, boat.name, false});
    }
    for (const Rig& rig : app::rigs(shared_.workshop())) {
        hand_places_.push_back(
            {rig.code, rig.code + (rig.name.empty() ? "" : ", " + rig.name), true});
    }
}

std::vector<Desk::HandPlace> Desk::places_like(std::string_view typed) const {
    const std::string wanted = lower_ascii(trimmed(typed));
    std::vector<HandPlace> places;
    for (const HandPlace& each : hand_places_) {
        const std::string words = lower_ascii(each.words);
        if (lower_ascii(each.name) == wanted || words == wanted) return {each};
        if (words.starts_with(wanted)) places.push_back(each);
    }
    return places;
}

// A rig is meant where its code is typed, or chosen with its name behind it.
void Desk::run(const HandOut& command) {
    hand_problem_.reset();
    auto& workshop = shared_.workshop();
    const auto places = places_like(command.to);
    if (places.size() != 1) {
        hand_problem_ = Problem{
            "boat",
            trimmed(command.to).empty() ? std::string("nothing is typed")
            : places.empty() ? "there is no boat or rig " + coilbook::quoted(trimmed(command.to))
                             : coilbook::quoted(trimmed(command.to)) + " begins more than one",
            "one of those below"};
        return;
    }
    const HandPlace& place = places.front();
    const auto codes = codes_meant();
    if (place.is_rig) {
        const auto rig = app::rig_called(workshop, place.name);
        const auto done = rig ? app::string_rig(workshop, *rig, codes, RigRole::wallet)
                              : tl::unexpected(rig.error());
        if (!done) hand_problem_ = done.error();
    } else {
        const auto done = app::hand_over(workshop, {Whereabouts::boat, place.name, "", "", codes});
        if (!done) hand_problem_ = done.error();
    }
    if (hand_problem_) return;
    message_ = fmt::format("{} {}: {}", place.is_rig ? "In the wallet of rig" : "With boat",
                           place.name, codes.size() == 1 ? codes.front() : coils(codes.size()));
    form_.ticked.clear();
    form_.is_handing = false;
    form_.hand_to.clear();
    bin_page::go_to(form_, Spot::search);
    refresh();
}

void Desk::run(const WriteLabels&) {
    app::LabelRequest request;
    request.codes = codes_meant();
    request.units = shared_.units();
    request.sheet = app::usual_label_sheet();
    const std::string what = request.codes.size() == 1
                                 ? request.codes.front()
                                 : fmt::format("{}-coils", request.codes.size());
    request.out = app::label_place(shared_.workshop(), what);
    shared_.workshop().progress().begin("Making labels of " + coils(request.codes.size()));
    const auto made = app::write_labels(shared_.workshop(), request);
    if (!made) {
        failure_ = words_of(made.error());
        return;
    }
    message_ = fmt::format("Labels of {}: {}", coils(made->labels), request.out.string());
}

void Desk::run(const FindGroups&) {
    finding_groups_ = std::async(std::launch::async, [lines = app::coil_lines(shared_.bin()),
                                                      library = shared_.bin().library()] {
        return app::named_groups(lines, library);
    });
}

void Desk::run(const NameGroup& command) {
    const BinLine* line = line_at();
    if (line == nullptr || line->group == 0 || !groups_) return;
    const auto& group = (*groups_)[line->group - 1];
    const auto made = app::make_class(shared_.workshop(), std::string(trimmed(command.name)),
                                      command.family, group.group.codes);
    if (!made) {
        name_problem_ = made.error();
        return;
    }
    name_problem_.reset();
    form_.group_name.clear();
    bin_page::go_to(form_, Spot::search);
    message_ = fmt::format("{} is now a class of your library", trimmed(command.name));
    refresh();
}

void Desk::went_back(const WentBack& done) {
    if (done.has_happened) refresh();
    message_ = done.words;
}

void Desk::run(const Undo&) {
    went_back(go_back(shared_.workshop()));
}

void Desk::run(const Redo&) {
    went_back(go_forth(shared_.workshop()));
}

void Desk::run(const CloseFailure&) {
    failure_.clear();
}

}  // namespace coilbook::bench::bin_page
