#include "bench/catalogue_screen.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <utility>

#include "app/dropped_file.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/pages/bench/bench_page.h"
#include "bench/pages/bin/bin_page.h"
#include "bench/pages/coil/coil_page.h"
#include "bench/pages/day/day_page.h"
#include "bench/pages/instruments/instruments_page.h"
#include "bench/pages/library/library_page.h"
#include "bench/pages/rigs/rigs_page.h"
#include "bench/pages/stock/stock_page.h"
#include "bench/shell/tabs.h"

namespace coilbook::bench {
namespace {

// What can be done with the window itself, on every page.
std::vector<Action> window_actions() {
    return {{"other colours", "Light colours, or dark ones", plain(key::f2)},
            {"cold fingers", "Large type, and one field at a time, or no longer", plain(key::f11)},
            {"larger", "Make everything larger", control('+')},
            {"smaller", "Make everything smaller", control('-')},
            {"usual size", "Make everything as large as the screen asks for", control('0')},
            {"quit", "Close the window", control('Q')}};
}

}  // namespace

CatalogueScreen::OpenPages::OpenPages(app::Workshop opened)
    : workshop(std::move(opened)), shared(workshop) {
    auto at_the_bench = std::make_unique<bench_page::BenchPage>(shared);
    bench = at_the_bench.get();
    pages.push_back(std::move(at_the_bench));
    pages.push_back(std::make_unique<bin_page::BinPage>(shared));
    pages.push_back(std::make_unique<library_page::LibraryPage>(shared));
    pages.push_back(std::make_unique<instruments_page::InstrumentsPage>(shared));
    pages.push_back(std::make_unique<rigs_page::RigsPage>(shared));
    pages.push_back(std::make_unique<day_page::DayPage>(shared));
    pages.push_back(std::make_unique<stock_page::StockPage>(shared));
    pages.push_back(std::make_unique<coil_page::CoilPage>(shared));
}

CatalogueScreen::CatalogueScreen(app::Workshop workshop, std::string name, Open open,
                                 Warnings warnings)
    : open_(std::move(open)),
      warnings_(std::move(warnings)),
      open_pages_(std::make_unique<OpenPages>(std::move(workshop))),
      name_(std::move(name)) {}

CatalogueScreen::~CatalogueScreen() = default;

bench_page::Desk& CatalogueScreen::desk() {
    return open_pages_->bench->desk();
}

std::string CatalogueScreen::title() {
    const std::string about = page().title();
    return about.empty() ? "Coilbook" : about + " – Coilbook";
}

std::vector<Action> CatalogueScreen::actions() {
    auto all = page().actions();
    const auto& pages = open_pages_->pages;
    for (std::size_t at = 0; at < pages.size(); ++at) {
        all.push_back(
            {pages[at]->name(), pages[at]->way_here(), alt(static_cast<int>('1' + at)), at != at_});
    }
    const auto window = window_actions();
    all.insert(all.end(), window.begin(), window.end());
    return all;
}

void CatalogueScreen::perform(std::string_view action) {
    const auto& pages = open_pages_->pages;
    for (std::size_t at = 0; at < pages.size(); ++at) {
        if (pages[at]->name() == action) return go_to_page(at);
    }
    if (action == "other colours") {
        wish_.other_theme = true;
    } else if (action == "cold fingers") {
        wish_.large = true;
    } else if (action == "larger") {
        wish_.scale_step = 1;
    } else if (action == "smaller") {
        wish_.scale_step = -1;
    } else if (action == "usual size") {
        wish_.monitor_scale = true;
    } else if (action == "quit") {
        wish_.quit = true;
    } else {
        page().perform(action);
    }
}

void CatalogueScreen::go_to_page(std::size_t at) {
    if (const auto coil = page().coil_at()) open_pages_->coil_at = *coil;
    at_ = at;
    if (open_pages_->coil_at) page().follow(*open_pages_->coil_at);
}

void CatalogueScreen::watch_keys() {
    const auto& pages = open_pages_->pages;
    for (std::size_t at = 0; at < pages.size() && at < 9; ++at) {
        if (pressed(alt(static_cast<int>('1' + at)))) go_to_page(at);
    }
    if (pressed(control(key::tab))) go_to_page((at_ + 1) % pages.size());
    if (pressed(control_shift(key::tab))) go_to_page((at_ + pages.size() - 1) % pages.size());
    if (pressed(plain(key::f1))) finder_.open();
}

std::vector<std::string_view> CatalogueScreen::page_names() const {
    std::vector<std::string_view> names;
    for (const auto& each : open_pages_->pages) names.push_back(each->name());
    return names;
}

void CatalogueScreen::draw_in_bar(const Look& look, float width, float height) {
    const auto drawn = draw_tabs(look, page_names(), at_, width, height);
    if (drawn.chosen) go_to_page(*drawn.chosen);
    if (drawn.list_all) finder_.open();
    page().draw_in_bar(look, width - drawn.width, height);
}

void CatalogueScreen::draw(const Look& look) {
    const bool was_open = finder_.is_open();
    page().draw(look, was_open);
    if (was_open) {
        const std::string chosen = finder_.draw(look, actions());
        if (!chosen.empty()) perform(chosen);
    } else {
        watch_keys();
    }
}

bool CatalogueScreen::act() {
    bool acted = page().act();
    if (const auto coil = page().take_trip()) {
        desk().outbox().post(bench_page::ChooseCoil{*coil});
        go_to_page(0);
        acted = page().act();
    }
    acted = page().look_round(std::chrono::milliseconds(8)) || acted;
    if (warnings_->empty()) return acted;
    page().say_failure(warnings_->back());
    warnings_->pop_back();
    return true;
}

bool CatalogueScreen::has_unsaved() const {
    return std::ranges::any_of(open_pages_->pages,
                               [](const auto& each) { return each->has_unsaved(); });
}

void CatalogueScreen::receive(const std::vector<std::string>& files) {
    for (const std::string& file : files) {
        switch (app::kind_of(file)) {
            case app::FileKind::catalogue:
                open_catalogue(file);
                break;
            case app::FileKind::photograph:
                take_photograph(file);
                break;
            case app::FileKind::text:
                go_to_page(0);
                desk().outbox().post(bench_page::TakeInFile{file});
                break;
            case app::FileKind::unreadable:
                page().say_failure(coilbook::quoted(file, 200) +
                                   " cannot be read. Drop a readings file (CSV), a catalogue or a "
                                   "photograph.");
                break;
        }
    }
}

// It is of the coil that the person looks at, and so goes to the page that shows it.
void CatalogueScreen::take_photograph(const std::string& file) {
    if (page().take_photograph(file)) return;
    const auto& pages = open_pages_->pages;
    for (std::size_t at = 0; at < pages.size(); ++at) {
        if (pages[at]->name() == "Coil") go_to_page(at);
    }
    page().take_photograph(file);
}

void CatalogueScreen::open_catalogue(const std::string& path) {
    const std::string name = std::filesystem::path(path).filename().string();
    if (has_unsaved()) {
        page().say_failure(
            "Something typed is not saved yet. Save it with Enter or take it back "
            "with Ctrl T, then drop " +
            name + " again.");
        return;
    }
    try {
        open_pages_ = std::make_unique<OpenPages>(open_(path));
        name_ = name;
    } catch (const Error& error) {
        page().say_failure(error.what());
    }
}

}  // namespace coilbook::bench
