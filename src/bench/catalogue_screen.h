// The program's screen: the pages on one open catalogue.
#pragma once

#include <chrono>
#include <string>

#include "app/workshop.h"
#include "bench/pages/bench/bench_desk.h"
#include "bench/pages/bench/bench_screen.h"
#include "bench/shell/shell.h"

namespace coilbook::bench {

class CatalogueScreen : public Screen {
  public:
    // `name` is what the top bar calls the catalogue.
    CatalogueScreen(app::Workshop& workshop, std::string name)
        : desk_(workshop), name_(std::move(name)) {}

    [[nodiscard]] std::string title() override {
        const std::string& coil = desk_.view().title;
        return coil.empty() ? "Coilbook" : coil + " – Coilbook";
    }
    [[nodiscard]] std::string subtitle() const override { return name_; }
    void draw_in_bar(const Look& look, float width, float height) override {
        bench_page::draw_question(look, desk_.view(), desk_.outbox(), width, height);
    }
    void draw(const Look& look) override {
        bench_page::draw(look, desk_.view(), desk_.form(), desk_.outbox());
    }
    bool act() override {
        const bool acted = desk_.act();
        return desk_.look_round(std::chrono::milliseconds(8)) || acted;
    }
    [[nodiscard]] bool is_busy() const override { return desk_.is_busy(); }

  private:
    bench_page::Desk desk_;
    std::string name_;
};

}  // namespace coilbook::bench
