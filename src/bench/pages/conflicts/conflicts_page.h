// The page Conflicts, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/conflicts/conflicts_desk.h"

namespace coilbook::bench::conflicts_page {

class ConflictsPage : public Page {
  public:
    explicit ConflictsPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Conflicts"; }
    [[nodiscard]] std::string_view way_here() const override {
        return "Go to what two laptops disagree on";
    }
    [[nodiscard]] bool has_tab() override { return desk_.count() > 0; }
    [[nodiscard]] std::string word_at_start() override;
    [[nodiscard]] std::string title() override { return desk_.view().title; }
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds) override { return desk_.look_round(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::conflicts_page
