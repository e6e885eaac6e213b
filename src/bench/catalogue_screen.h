// The program's screen: the pages on one open catalogue, which a dropped file may exchange.
#pragma once

#include <chrono>
#include <deque>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/early_care.h"
#include "app/workshop.h"
#include "bench/page.h"
#include "bench/shared_bin.h"
#include "bench/shell/finder.h"
#include "bench/shell/shell.h"
#include "bench/widgets/number_help.h"
#include "bench/worker.h"
#include "quantity/unit_set.h"

namespace coilbook::bench {

namespace bench_page {
class BenchPage;
class Desk;
}  // namespace bench_page

class CatalogueScreen : public Screen {
  public:
    // How a dropped catalogue is opened, and how one is opened again that was found to be damaged
    // while it was shown already; may throw Error.
    using Open = std::function<app::Workshop(const std::string& path)>;

    // What a person should know though the work goes on, told by Surroundings::warn. While the
    // worker is at work nobody else looks at them.
    using Warnings = std::shared_ptr<std::vector<std::string>>;

    // `name` is what the top bar calls the catalogue. The warnings are taken out and shown. Of a
    // catalogue that is still being looked through (Workshop::open_at_once) damage is told as soon
    // as it is found, and the catalogue is then open for reading only. Throws Error where it cannot
    // be read at all.
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
    [[nodiscard]] bool is_busy() const override {
        return worker_.is_at_work() || page().is_busy() || !is_looked_through_ ||
               !dropped_.empty() || help_.is_waiting();
    }
    [[nodiscard]] bool keeps_still() const override { return worker_.is_at_work(); }
    [[nodiscard]] TopBarWish take_wish() override {
        return worker_.is_at_work() ? TopBarWish{} : std::exchange(wish_, {});
    }
    // Whatever takes longer than this is shown with how far it is; 0.3 s, if nobody says.
    void show_work_after(std::chrono::milliseconds patience) { patience_ = patience; }

    // Of a screen on an empty catalogue in memory: reads the one in that file, which is large, and
    // shows how far it is. Where it cannot be read, or somebody has had enough, the window wants to
    // be closed.
    void open_first(const std::string& path);
    // Why it could not be read; empty where it could, or where nobody wanted it any more.
    [[nodiscard]] const std::string& why_not_opened() const { return why_not_opened_; }

    // The page that is shown, and all that can be done now: on it, with the pages, and with the
    // window.
    [[nodiscard]] Page& page() const { return *open_pages_->pages[at_]; }
    [[nodiscard]] std::vector<std::string_view> page_names() const;
    [[nodiscard]] std::vector<Action> actions();
    void perform(std::string_view action);

    // All pages show their numbers in these units from now on; grains and feet, if nobody says.
    void show_in(const Units& units);
    [[nodiscard]] const Units& units() const { return units_; }
    // What is to be done when the person has chosen others.
    void when_units_change(std::function<void(const Units&)> remember) {
        remember_units_ = std::move(remember);
    }

    [[nodiscard]] bench_page::Desk& desk();

  private:
    // A catalogue with the pages on it.
    struct OpenPages {
        app::Workshop workshop;
        SharedBin shared;
        std::vector<std::unique_ptr<Page>> pages;
        bench_page::BenchPage* bench = nullptr;  // one of them
        std::optional<Id<Coil>> coil_at;         // that a page was last about
        std::unique_ptr<app::EarlyCare> care;    // since somebody began to type

        explicit OpenPages(app::Workshop opened);
        // Something is typed on one of them and not saved.
        [[nodiscard]] bool has_unsaved() const;
        // Somebody types, so that something will be changed: what comes before that is begun.
        void begin_care();
    };
    [[nodiscard]] std::unique_ptr<OpenPages> pages_on(app::Workshop workshop);
    void put_up(std::unique_ptr<OpenPages> pages);  // in the units that are shown
    void look_for_tabs();
    // What the pages have to say once.
    [[nodiscard]] static std::vector<std::string> words_at_start(OpenPages& pages);
    void go_to_page(std::size_t at);
    // Those with a tab, and the one that is shown.
    [[nodiscard]] std::vector<std::size_t> shown_pages() const;
    void go_to_next_tab(int step);
    void watch_keys();
    void take_dropped(const std::string& file);
    void take_photograph(const std::string& file);
    void open_catalogue(const std::string& path);
    // Reads it, and then shows it. Throws Error where it cannot be read, and BrokenOff.
    void read(const std::string& path);
    // All that is done between two frames, by the worker: with the page, and with a dropped file.
    // Gives whether anything changed.
    bool round(const std::string& dropped);
    void begin(std::function<bool()> work, std::chrono::milliseconds patience);
    bool look_after_work();
    bool look_for_damage();

    Open open_;
    Warnings warnings_;
    bool is_looked_through_ = false;           // the catalogue; then nothing more is heard of it
    std::shared_ptr<app::Progress> progress_;  // of all catalogues that are opened here
    std::unique_ptr<OpenPages> open_pages_;
    std::vector<bool> has_tab_;  // each page
    std::size_t at_ = 0;         // of the page that is shown
    std::string name_;
    Finder finder_;
    std::optional<std::size_t> clicked_tab_;
    std::chrono::milliseconds patience_{300};
    bool has_acted_ = false;  // what the worker did changed something
    bool was_work_shown_ = false;
    std::chrono::steady_clock::time_point shown_work_;  // when its progress was drawn last
    std::deque<std::string> dropped_;                   // files whose turn has not come yet
    bool has_nothing_yet_ = false;                      // open_first is at work
    bool was_drawn_ = false;
    bool has_said_words_ = false;  // those of the start
    std::string why_not_opened_;
    NumberHelp help_;
    TopBarWish wish_;
    Units units_ = grains_and_feet;
    std::function<void(const Units&)> remember_units_;
    Worker worker_;  // the last: it is over before anything else goes
};

}  // namespace coilbook::bench
