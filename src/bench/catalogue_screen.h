// The program's screen: the pages on one open catalogue, which a dropped file may exchange.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/workshop.h"
#include "bench/pages/bench/bench_desk.h"
#include "bench/shell/shell.h"

namespace coilbook::bench {

class CatalogueScreen : public Screen {
  public:
    // How a dropped catalogue is opened; may throw Error.
    using Open = std::function<app::Workshop(const std::string& path)>;

    // What a person should know though the work goes on, told by Surroundings::warn.
    using Warnings = std::shared_ptr<std::vector<std::string>>;

    // `name` is what the top bar calls the catalogue. The warnings are taken out and shown.
    CatalogueScreen(app::Workshop workshop, std::string name, Open open, Warnings warnings);

    [[nodiscard]] std::string title() override;
    [[nodiscard]] std::string subtitle() const override { return name_; }
    void draw_in_bar(const Look& look, float width, float height) override;
    void draw(const Look& look) override;
    // A readings file is taken in. A catalogue takes the place of the one that is open, unless
    // something typed is not saved yet. What cannot be is said in the window, and why.
    void receive(const std::vector<std::string>& files) override;
    bool act() override;
    [[nodiscard]] bool is_busy() const override { return desk_->is_busy(); }

    [[nodiscard]] bench_page::Desk& desk() { return *desk_; }

  private:
    void open_catalogue(const std::string& path);

    Open open_;
    Warnings warnings_;
    std::unique_ptr<app::Workshop> workshop_;
    std::unique_ptr<bench_page::Desk> desk_;  // on the workshop
    std::string name_;
};

}  // namespace coilbook::bench
