// The page Care, as the screen sees it.
#pragma once

#include <functional>
#include <utility>

#include "bench/page.h"
#include "bench/pages/care/care_desk.h"

namespace coilbook::bench::care_page {

class CarePage : public Page {
  public:
    // `is_unsaved` as Desk has it.
    CarePage(SharedBin& shared, std::function<bool()> is_unsaved)
        : desk_(shared, std::move(is_unsaved)) {}

    [[nodiscard]] std::string_view name() const override { return "Care"; }
    [[nodiscard]] std::string_view way_here() const override {
        return "Go to the catalogue's care: backups, tables, other copies";
    }
    [[nodiscard]] std::string title() override { return desk_.view().title; }
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds) override { return desk_.look_round(); }
    [[nodiscard]] std::optional<std::string> take_anew() override { return desk_.take_anew(); }
    void say(const std::string& words) override { desk_.say(words); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }
    bool take_file(const std::string& file) override { return desk_.take_file(file); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::care_page
