// The page of the bin, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/bin/bin_desk.h"

namespace coilbook::bench::bin_page {

class BinPage : public Page {
  public:
    explicit BinPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Bin"; }
    [[nodiscard]] std::string_view way_here() const override { return "Go to the bin"; }
    [[nodiscard]] std::string title() override { return "Bin, " + desk_.view().summary; }
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds budget) override { return desk_.look_round(budget); }
    [[nodiscard]] bool is_busy() const override { return desk_.is_busy(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }
    [[nodiscard]] std::optional<Id<Coil>> take_trip() override { return desk_.take_trip(); }
    [[nodiscard]] std::optional<Id<Coil>> coil_at() override { return desk_.form().at; }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::bin_page
