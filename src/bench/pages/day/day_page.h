// The page Day, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/day/day_desk.h"

namespace coilbook::bench::day_page {

class DayPage : public Page {
  public:
    explicit DayPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Day"; }
    [[nodiscard]] std::string_view way_here() const override {
        return "Go to the day: who goes out with what";
    }
    [[nodiscard]] std::string title() override;
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds) override { return desk_.look_round(); }
    [[nodiscard]] bool has_unsaved() const override { return desk_.has_unsaved(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::day_page
