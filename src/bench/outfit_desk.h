// What the desks of the pages about rigs, the day and the stock do alike: they look at one
// inventory, follow the catalogue, make their view only when something has changed, and carry out
// what was posted.
//
// A page's Desk derives from OutfitDesk<Desk, View, Form, Command>, is its friend, and has
// `void read()`, done after any change of the catalogue, `View made_view()`, and a run() for each
// command of its own.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "app/inventory.h"
#include "base/error.h"
#include "bench/common_commands.h"
#include "bench/going_back.h"
#include "bench/outbox.h"
#include "bench/shared_bin.h"

namespace coilbook::bench {

// A problem as it is said in the window. What the command line would advise is left out: a person
// at the window has other keys.
[[nodiscard]] inline std::string said_here(const Problem& problem) {
    const bool is_a_command = problem.suggestion.find("'coilbook ") != std::string::npos;
    return is_a_command || problem.suggestion.empty() ? problem.sentence : words_of(problem);
}

template <class Desk, class View, class Form, class Command>
class OutfitDesk {
  public:
    // What to draw now. Made anew only after something has changed.
    [[nodiscard]] const View& view() {
        if (edition_ < 0) look_round();  // nothing was read yet
        if (is_stale_ || form_ != form_shown_) {
            view_ = desk().made_view();
            form_shown_ = form_;
            is_stale_ = false;
        }
        return view_;
    }
    [[nodiscard]] Form& form() { return form_; }
    [[nodiscard]] Outbox<Command>& outbox() { return outbox_; }

    // Carries out what was posted, in order. Gives whether there was anything.
    bool act() {
        if (!outbox_.commands.empty()) look_round();  // commands are about what is there now
        const bool any = carry_out(
            outbox_, [this](const auto& each) { desk().run(each); },
            [this](const Error& error) { failure_ = error.what(); });
        if (any) is_stale_ = true;
        return any;
    }
    // Follows the catalogue. Gives whether anything changed.
    bool look_round() {
        try {
            if (!has_changed()) return false;
            desk().read();
        } catch (const Error& error) {
            say_failure(error.what());
        }
        return true;
    }
    void say_failure(const std::string& words) {
        failure_ = words;
        is_stale_ = true;
    }

  protected:
    explicit OutfitDesk(SharedBin& shared) : shared_(shared) {}

    [[nodiscard]] app::Workshop& workshop() { return shared_.workshop(); }
    [[nodiscard]] const std::filesystem::path& file() const {
        return shared_.workshop().catalogue().file();
    }
    [[nodiscard]] const Units& units() const { return shared_.units(); }
    // Throws Error where the catalogue cannot be read, as all that follow.
    [[nodiscard]] app::Inventory& inventory() {
        if (!inventory_) inventory_.emplace(workshop());
        return *inventory_;
    }
    // After a change by this page.
    void changed() {
        shared_.refresh();
        take_note();
    }
    void run(const Undo&) { went_back(go_back(workshop())); }
    void run(const Redo&) { went_back(go_forth(workshop())); }
    void run(const CloseFailure&) { failure_.clear(); }

    std::string message_, failure_;
    bool is_stale_ = true;  // the view is to be made anew
    Form form_;

  private:
    [[nodiscard]] Desk& desk() { return static_cast<Desk&>(*this); }
    // Whether the catalogue is another than when this was asked last, by whomever.
    [[nodiscard]] bool has_changed() {
        shared_.follow();
        if (shared_.edition() == edition_) return false;
        take_note();
        return true;
    }
    void went_back(const WentBack& done) {
        if (done.has_happened) changed();
        message_ = done.words;
        desk().read();
    }
    void take_note() {
        edition_ = shared_.edition();
        if (inventory_) inventory_->refresh();
        is_stale_ = true;
    }

    SharedBin& shared_;
    int edition_ = -1;
    std::optional<app::Inventory> inventory_;
    Form form_shown_;
    View view_;
    Outbox<Command> outbox_;
};

}  // namespace coilbook::bench
