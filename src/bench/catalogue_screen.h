// The program's screen: the pages on one open catalogue, which a dropped file may exchange.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/workshop.h"
#include "bench/page.h"
#include "bench/shared_bin.h"
#include "bench/shell/finder.h"
#include "bench/shell/shell.h"

namespace coilbook::bench {

namespace bench_page {
class BenchPage;
class Desk;
}  // namespace bench_page

class CatalogueScreen : public Screen {
  public:
    // How a dropped catalogue is opened; may throw Error.
    using Open = std::function<app::Workshop(const std::string& path)>;

    // What a person should know though the work goes on, told by Surroundings::warn.
    using Warnings = std::shared_ptr<std::vector<std::string>>;

    // `name` is what the top bar calls the catalogue. The warnings are taken out and shown.
    CatalogueScreen(app::Workshop workshop, std::string name, Open open, Warnings warnings);
    ~CatalogueScreen() override;

    [[nodiscard]] std::string title() override;
    [[nodiscard]] std::string subtitle() const override { return name_; }
    void draw_in_bar(const Look& look, float width, float height) override;
    void draw(const Look& look) override;
    // A readings file is taken in. A catalogue takes the place of the one that is open, unless
    // something typed is not saved yet. What cannot be is said in the window, and why.
    void receive(const std::vector<std::string>& files) override;
    bool act() override;
    [[nodiscard]] bool is_busy() const override { return page().is_busy(); }
    [[nodiscard]] TopBarWish take_wish() override { return std::exchange(wish_, {}); }

    // The page that is shown, and all that can be done now: on it, with the pages, and with the
    // window.
    [[nodiscard]] Page& page() const { return *open_pages_->pages[at_]; }
    [[nodiscard]] std::vector<std::string_view> page_names() const;
    [[nodiscard]] std::vector<Action> actions();
    void perform(std::string_view action);

    [[nodiscard]] bench_page::Desk& desk();

  private:
    // A catalogue with the pages on it.
    struct OpenPages {
        app::Workshop workshop;
        SharedBin shared;
        std::vector<std::unique_ptr<Page>> pages;
        bench_page::BenchPage* bench = nullptr;  // one of them
        std::optional<Id<Coil>> coil_at;         // that a page was last about

        explicit OpenPages(app::Workshop opened);
    };
    [[nodiscard]] bool has_unsaved() const;
    void go_to_page(std::size_t at);
    void watch_keys();
    void take_photograph(const std::string& file);
    void open_catalogue(const std::string& path);

    Open open_;
    Warnings warnings_;
    std::unique_ptr<OpenPages> open_pages_;
    std::size_t at_ = 0;  // of the page that is shown
    std::string name_;
    Finder finder_;
    TopBarWish wish_;
};

}  // namespace coilbook::bench
