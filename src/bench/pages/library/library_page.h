// The page Library, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/library/library_desk.h"

namespace coilbook::bench::library_page {

class LibraryPage : public Page {
  public:
    explicit LibraryPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Library"; }
    [[nodiscard]] std::string_view way_here() const override {
        return "Go to the library: the classes, and what they stand on";
    }
    [[nodiscard]] std::string title() override { return desk_.view().title; }
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    [[nodiscard]] std::optional<ShownPlot> plot() override {
        return ShownPlot{desk_.view().map, desk_.form().window};
    }
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds budget) override { return desk_.look_round(budget); }
    [[nodiscard]] bool is_busy() const override { return desk_.is_busy(); }
    [[nodiscard]] bool has_unsaved() const override { return desk_.has_unsaved(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::library_page
