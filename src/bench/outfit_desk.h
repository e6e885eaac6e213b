// What the desks of the pages about rigs, the day and the stock do alike: they look at one
// inventory, and follow the catalogue.
#pragma once

#include <optional>
#include <string>

#include "app/inventory.h"
#include "bench/going_back.h"
#include "bench/shared_bin.h"

namespace coilbook::bench {

// A problem as it is said in the window. What the command line would advise is left out: a person
// at the window has other keys.
[[nodiscard]] inline std::string said_here(const Problem& problem) {
    const bool is_a_command = problem.suggestion.find("'coilbook ") != std::string::npos;
    return is_a_command || problem.suggestion.empty() ? problem.sentence : words_of(problem);
}

class OutfitDesk {
  public:
    void say_failure(const std::string& words) {
        failure_ = words;
        is_stale_ = true;
    }

  protected:
    explicit OutfitDesk(SharedBin& shared) : shared_(shared) {}

    [[nodiscard]] app::Workshop& workshop() { return shared_.workshop(); }
    // Throws Error where the catalogue cannot be read, as all that follow.
    [[nodiscard]] app::Inventory& inventory() {
        if (!inventory_) inventory_.emplace(workshop());
        return *inventory_;
    }
    // Whether the catalogue is another than when this was asked last, by whomever.
    [[nodiscard]] bool has_changed() {
        shared_.follow();
        if (shared_.edition() == edition_) return false;
        take_note();
        return true;
    }
    // After a change by this page.
    void changed() {
        shared_.refresh();
        take_note();
    }
    void went_back(const WentBack& done) {
        if (done.has_happened) changed();
        message_ = done.words;
    }

    std::string message_, failure_;
    bool is_stale_ = true;  // the view is to be made anew

  private:
    void take_note() {
        edition_ = shared_.edition();
        if (inventory_) inventory_->refresh();
        is_stale_ = true;
    }

    SharedBin& shared_;
    int edition_ = -1;
    std::optional<app::Inventory> inventory_;
};

}  // namespace coilbook::bench
