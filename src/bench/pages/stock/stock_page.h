// The page Stock, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/stock/stock_desk.h"

namespace coilbook::bench::stock_page {

class StockPage : public Page {
  public:
    explicit StockPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Stock"; }
    [[nodiscard]] std::string_view way_here() const override {
        return "Go to the stock: what there is and what a season cost";
    }
    [[nodiscard]] std::string title() override;
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds) override { return desk_.look_round(); }
    [[nodiscard]] std::optional<Id<Coil>> take_trip() override { return desk_.take_trip(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::stock_page
