// The page at the bench, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/bench/bench_desk.h"

namespace coilbook::bench::bench_page {

class BenchPage : public Page {
  public:
    explicit BenchPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Bench"; }
    [[nodiscard]] std::string_view way_here() const override { return "Go to the bench"; }
    [[nodiscard]] std::string title() override { return desk_.view().title; }
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw_in_bar(const Look& look, float width, float height) override;
    void draw(const Look& look, bool is_covered) override;
    [[nodiscard]] std::optional<ShownPlot> plot() override {
        return ShownPlot{desk_.view().verdict.picture, desk_.form().window};
    }
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds budget) override { return desk_.look_round(budget); }
    [[nodiscard]] bool is_busy() const override { return desk_.is_busy(); }
    [[nodiscard]] bool has_unsaved() const override { return desk_.has_unsaved(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }
    [[nodiscard]] std::optional<Id<Coil>> coil_at() override { return desk_.coil_at(); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::bench_page
