// The page of one coil, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/coil/coil_desk.h"

namespace coilbook::bench::coil_page {

class CoilPage : public Page {
  public:
    explicit CoilPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Coil"; }
    [[nodiscard]] std::string_view way_here() const override {
        return "Go to the coil in hand: everything about it";
    }
    [[nodiscard]] std::string title() override { return desk_.view().title; }
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    [[nodiscard]] std::optional<ShownPlot> plot() override {
        if (desk_.form().shows_table) return std::nullopt;
        return ShownPlot{desk_.view().sink.plot, desk_.form().window};
    }
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds) override { return desk_.look_round(); }
    [[nodiscard]] bool has_unsaved() const override { return desk_.has_unsaved(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }
    [[nodiscard]] std::optional<Id<Coil>> take_trip() override { return desk_.take_trip(); }
    [[nodiscard]] std::optional<Id<Coil>> coil_at() override { return desk_.coil_at(); }
    void follow(const Id<Coil>& coil) override { desk_.follow(coil); }
    bool take_photograph(const std::string& file) override;

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::coil_page
