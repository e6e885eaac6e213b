// The page Rigs, as the screen sees it.
#pragma once

#include "bench/page.h"
#include "bench/pages/rigs/rigs_desk.h"

namespace coilbook::bench::rigs_page {

class RigsPage : public Page {
  public:
    explicit RigsPage(SharedBin& shared) : desk_(shared) {}

    [[nodiscard]] std::string_view name() const override { return "Rigs"; }
    [[nodiscard]] std::string_view way_here() const override { return "Go to the rigs"; }
    [[nodiscard]] std::string title() override;
    [[nodiscard]] std::vector<Action> actions() override;
    void perform(std::string_view action) override;
    void draw(const Look& look, bool is_covered) override;
    bool act() override { return desk_.act(); }
    bool look_round(std::chrono::milliseconds) override { return desk_.look_round(); }
    [[nodiscard]] bool has_unsaved() const override { return desk_.has_unsaved(); }
    [[nodiscard]] std::optional<Id<Coil>> take_trip() override { return desk_.take_trip(); }
    void say_failure(const std::string& words) override { desk_.say_failure(words); }

    [[nodiscard]] Desk& desk() { return desk_; }

  private:
    Desk desk_;
};

}  // namespace coilbook::bench::rigs_page
