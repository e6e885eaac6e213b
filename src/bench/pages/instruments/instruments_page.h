// The page of the instruments, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/instruments/instruments_actions.h"
#include "bench/pages/instruments/instruments_desk.h"

namespace coilbook::bench::instruments_page {

class InstrumentsPage : public Page {
  public:
    explicit InstrumentsPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Instruments"; }
    [[nodiscard]] std::string_view way_here() const override { return "Go to the instruments"; }
    [[nodiscard]] std::string title() override { return desk_.view().title; }
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    [[nodiscard]] std::optional<ShownPlot> plot() override {
        return ShownPlot{desk_.view().result.plot, desk_.form().window};
    }
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds) override { return desk_.look_round(); }
    [[nodiscard]] bool has_unsaved() const override { return desk_.has_unsaved(); }
    [[nodiscard]] std::string word_at_start() override { return desk_.word_at_start(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    [[nodiscard]] Place place() {
        return {desk_.view(), desk_.form(), desk_.outbox(), desk_.instrument()};
    }
    Desk desk_;
};

}  // namespace coilbook::bench::instruments_page
