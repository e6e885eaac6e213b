#include "bench/pages/conflicts/conflicts_desk.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/custody.h"

namespace coilbook::bench::conflicts_page {
namespace {

std::string_view words_for(std::string_view kind) {
    if (kind == "ended") return "ended on one laptop, used on another";
    if (kind == "reading") return "read on two laptops";
    if (kind == "confirmation") return "said to be two things";
    if (kind == "place") return "handed over on two laptops";
    if (kind == "tip") return "two tips are on this rig";
    if (kind == "code") return "two things have this code";
    return "changed on two laptops";
}

std::string what_of(const app::ConflictToSettle& conflict) {
    const auto words = words_for(conflict.kind);
    return conflict.kind == "code" || conflict.field.empty()
               ? std::string(words)
               : fmt::format("{}: {}", conflict.field, words);
}

std::string who_of(const app::ConflictChoice& choice) {
    std::string words = choice.at ? app::minute_of(*choice.at) : "";
    if (!choice.who.empty()) words += ", " + choice.who;
    if (!choice.laptop.empty()) words += " on " + choice.laptop;
    if (!choice.what.empty()) words += ": " + choice.what;
    return words;
}

}  // namespace

std::size_t Desk::count() {
    const bool others_wrote = read_at_ && *read_at_ != workshop().catalogue().data_version();
    if (others_wrote || !conflicts_.empty()) look_round();
    return conflicts_.size();
}

std::size_t Desk::count_now() {
    look_round();
    return conflicts_.size();
}

void Desk::read() {
    read_at_ = workshop().catalogue().data_version();
    conflicts_ = app::conflicts_of(workshop());
    if (at_hand() == nullptr) form_.at = conflicts_.empty() ? "" : conflicts_.front().id;
    is_stale_ = true;
}

const app::ConflictToSettle* Desk::at_hand() const {
    const auto found = std::ranges::find(conflicts_, form_.at, &app::ConflictToSettle::id);
    return found == conflicts_.end() ? nullptr : &*found;
}

void Desk::run(const StepConflict& command) {
    if (conflicts_.empty()) return;
    const auto here = std::ranges::find(conflicts_, form_.at, &app::ConflictToSettle::id);
    const auto next = std::clamp<std::ptrdiff_t>(here - conflicts_.begin() + command.step, 0,
                                                 std::ssize(conflicts_) - 1);
    form_.at = conflicts_[static_cast<std::size_t>(next)].id;
    form_.scrolls = true;
}

void Desk::run(const SettleAs& command) {
    const auto* conflict = at_hand();
    if (conflict == nullptr) return;
    // The one below comes into hand.
    const auto place = conflict - conflicts_.data();
    const auto done = app::settle(workshop(), conflict->id, command.choice);
    if (!done) {
        failure_ = said_here(done.error());
        return;
    }
    changed();
    read();
    if (!conflicts_.empty()) {
        const auto next = std::min<std::ptrdiff_t>(place, std::ssize(conflicts_) - 1);
        form_.at = conflicts_[static_cast<std::size_t>(next)].id;
    }
    message_.clear();
    for (const auto& sentence : *done) message_ += (message_.empty() ? "" : "; ") + sentence;
}

View Desk::made_view() {
    View view;
    view.failure = failure_;
    view.message = message_;
    view.nothing =
        "There is nothing to settle: all copies of the catalogue that came together agree.";
    for (const auto& each : conflicts_) {
        view.rows.push_back({each.id, each.thing, what_of(each), each.id == form_.at});
    }
    const auto* conflict = at_hand();
    if (conflict == nullptr) return view;
    view.title = conflict->thing + ", " + what_of(*conflict);
    for (const auto& choice : conflict->choices) {
        view.choices.push_back(
            {choice.value.empty() ? "nothing" : choice.value, who_of(choice), choice.stands});
    }
    return view;
}

}  // namespace coilbook::bench::conflicts_page
