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
#include "bench/pages/care/care_page.h"
#include "bench/pages/coil/coil_page.h"
#include "bench/pages/conflicts/conflicts_page.h"
#include "bench/pages/day/day_page.h"
#include "bench/pages/instruments/instruments_page.h"
#include "bench/pages/library/library_page.h"
#include "bench/pages/rigs/rigs_page.h"
#include "bench/pages/stock/stock_page.h"
#include "bench/shell/tabs.h"
#include "bench/shell/work_panel.h"

namespace coilbook::bench {
namespace {

// What can be done with the window itself, on every page.
std::vector<Action> window_actions() {
    return {
        {"other colours", "Light colours, or dark ones", plain(key::f2)},
        {"other units", "Grams and metres, or grains and feet", plain(key::f10)},
        {"explain", "Say what the numbers on this page are, one after the other", plain(key::f12)},
        {"cold fingers", "Large type, and one field at a time, or no longer", plain(key::f11)},
        {"larger", "Make everything larger", control('+')},
        {"smaller", "Make everything smaller", control('-')},
        {"usual size", "Make everything as large as the screen asks for", control('0')},
        {"quit", "Close the window", control('Q')}};
}

// Alt 1 to Alt 9, and Alt 0 for the tenth.
Chord key_of_page(std::size_t at) {
    return alt(static_cast<int>('0' + (at + 1) % 10));
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
    pages.push_back(std::make_unique<conflicts_page::ConflictsPage>(shared));
    pages.push_back(
        std::make_unique<care_page::CarePage>(shared, [this] { return has_unsaved(); }));
}

void CatalogueScreen::OpenPages::begin_care() {
    const auto& catalogue = workshop.catalogue();
    if (care || catalogue.file().empty() || !catalogue.why_read_only().empty()) return;
    care = std::make_unique<app::EarlyCare>(catalogue.file(), workshop.surroundings());
    workshop.wait_before_first_change([this] { care->wait(workshop.progress()); });
}

bool CatalogueScreen::OpenPages::has_unsaved() const {
    return std::ranges::any_of(pages, [](const auto& each) { return each->has_unsaved(); });
}

CatalogueScreen::CatalogueScreen(app::Workshop workshop, std::string name, Open open,
                                 Warnings warnings)
    : open_(std::move(open)),
      warnings_(std::move(warnings)),
      progress_(workshop.surroundings().progress),
      name_(std::move(name)),
      worker_(progress_) {
    put_up(pages_on(std::move(workshop)));
}

std::vector<std::string> CatalogueScreen::words_at_start(OpenPages& pages) {
    std::vector<std::string> all;
    for (const auto& each : pages.pages) {
        if (auto words = each->word_at_start(); !words.empty()) all.push_back(std::move(words));
    }
    return all;
}

CatalogueScreen::~CatalogueScreen() = default;

std::unique_ptr<CatalogueScreen::OpenPages> CatalogueScreen::pages_on(app::Workshop workshop) {
    const auto& catalogue = workshop.catalogue();
    const bool is_looked_through = catalogue.damage_seen().has_value();
    const auto file = catalogue.file();
    try {
        return std::make_unique<OpenPages>(std::move(workshop));
    } catch (const Error&) {
        if (is_looked_through) throw;
        return std::make_unique<OpenPages>(open_(file.string()));  // which looks first
    }
}

void CatalogueScreen::put_up(std::unique_ptr<OpenPages> pages) {
    open_pages_ = std::move(pages);
    open_pages_->shared.show_in(units_);
    look_for_tabs();
}

void CatalogueScreen::look_for_tabs() {
    has_tab_.clear();
    for (const auto& each : open_pages_->pages) has_tab_.push_back(each->has_tab());
}

// Gives whether damage was found. The pages then begin anew, on what can still be read; where even
// that is nothing, they stay, and SQLite itself refuses to write for them.
bool CatalogueScreen::look_for_damage() {
    if (is_looked_through_) return false;
    const auto& catalogue = open_pages_->workshop.catalogue();
    const auto seen = catalogue.damage_seen();
    is_looked_through_ = seen.has_value();
    if (!seen || seen->empty()) return false;
    try {
        const auto file = catalogue.file().string();
        put_up(std::make_unique<OpenPages>(open_(file)));
    } catch (const Error& error) {
        page().say_failure(error.what());
    }
    return true;
}

bench_page::Desk& CatalogueScreen::desk() {
    return open_pages_->bench->desk();
}

std::string CatalogueScreen::title() {
    const std::string about = page().title();
    return about.empty() ? "Coilbook" : about + " – Coilbook";
}

std::vector<Action> CatalogueScreen::actions() {
    auto all = page().actions();
    if (const auto plot = page().plot()) {
        const auto closer = plot_actions(*plot);
        all.insert(all.end(), closer.begin(), closer.end());
    }
    const auto& pages = open_pages_->pages;
    for (std::size_t at = 0; at < pages.size(); ++at) {
        all.push_back({pages[at]->name(), pages[at]->way_here(), key_of_page(at), at != at_});
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
    } else if (action == "other units") {
        show_in(other_than(units_));
        if (remember_units_) remember_units_(units_);
    } else if (action == "explain") {
        help_.walk();
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
    } else if (const auto plot = page().plot(); !plot || !bench::perform(action, *plot)) {
        page().perform(action);
    }
}

void CatalogueScreen::show_in(const Units& units) {
    units_ = units;
    open_pages_->shared.show_in(units);
}

void CatalogueScreen::go_to_page(std::size_t at) {
    if (const auto coil = page().coil_at()) open_pages_->coil_at = *coil;
    at_ = at;
    if (open_pages_->coil_at) page().follow(*open_pages_->coil_at);
}

std::vector<std::size_t> CatalogueScreen::shown_pages() const {
    std::vector<std::size_t> shown;
    for (std::size_t at = 0; at < has_tab_.size(); ++at) {
        if (has_tab_[at] || at == at_) shown.push_back(at);
    }
    return shown;
}

void CatalogueScreen::go_to_next_tab(int step) {
    const auto shown = shown_pages();
    const auto here = std::ranges::find(shown, at_) - shown.begin();
    const auto next = (here + std::ssize(shown) + step) % std::ssize(shown);
    go_to_page(shown[static_cast<std::size_t>(next)]);
}

void CatalogueScreen::watch_keys() {
    const auto& pages = open_pages_->pages;
    for (std::size_t at = 0; at < pages.size(); ++at) {
        if (pressed(key_of_page(at))) go_to_page(at);
    }
    if (pressed(control(key::tab))) go_to_next_tab(1);
    if (pressed(control_shift(key::tab))) go_to_next_tab(-1);
    if (pressed(plain(key::f1))) finder_.open();
    if (const auto plot = page().plot()) {
        for (const Action& action : plot_actions(*plot)) {
            if (pressed(action.chord)) bench::perform(action.name, *plot);
        }
    }
    if (pressed(plain(key::f10))) perform("other units");
    if (pressed(plain(key::f12))) help_.walk();
}

std::vector<std::string_view> CatalogueScreen::page_names() const {
    std::vector<std::string_view> names;
    for (const auto at : shown_pages()) names.push_back(open_pages_->pages[at]->name());
    return names;
}

void CatalogueScreen::draw_in_bar(const Look& look, float width, float height) {
    std::vector<Tab> tabs;
    const auto shown = shown_pages();
    for (const auto at : shown) {
        tabs.push_back({open_pages_->pages[at]->name(), name_of(key_of_page(at)), at == at_});
    }
    const auto drawn = draw_tabs(look, tabs, width, height);
    if (drawn.chosen) clicked_tab_ = shown[*drawn.chosen];
    if (drawn.list_all) finder_.open();
    page().draw_in_bar(look, width - drawn.width, height);
}

void CatalogueScreen::draw(const Look& look) {
    if (worker_.is_at_work()) {
        was_work_shown_ = true;
        const auto words = progress_->words();
        const WorkPanel panel{
            has_nothing_yet_, words.empty() ? "One moment" : words, progress_->part(),
            static_cast<int>(worker_.lasted() / std::chrono::seconds(1)), progress_->is_unwanted()};
        if (draw_work_panel(look, panel)) progress_->break_off();
        return;
    }
    was_drawn_ = true;
    if (is_looked_through_ && typed_something()) open_pages_->begin_care();
    const bool was_open = finder_.is_open();
    const bool was_walking = help_.is_walking();
    help_.begin();
    Look with_help = look;
    with_help.help = &help_;
    page().draw(with_help, was_open || was_walking);
    if (was_open) {
        const std::string chosen = finder_.draw(look, actions());
        if (!chosen.empty()) perform(chosen);
    } else {
        watch_keys();
    }
    if (!finder_.is_open()) help_.draw(look);
    // Not before this page is drawn: another one may have something to read first.
    if (clicked_tab_) go_to_page(*std::exchange(clicked_tab_, {}));
}

void CatalogueScreen::begin(std::function<bool()> work, std::chrono::milliseconds patience) {
    was_work_shown_ = false;
    worker_.begin(
        [this, work = std::move(work)] {
            try {
                has_acted_ = work();
            } catch (const BrokenOff&) {
                page().say_failure("That was broken off, and everything is as it was before.");
                has_acted_ = true;
            } catch (const Error& error) {
                page().say_failure(error.what());
                has_acted_ = true;
            }
        },
        patience);
}

// Gives whether there is anything new to be seen.
bool CatalogueScreen::look_after_work() {
    if (worker_.is_over()) {
        has_nothing_yet_ = false;
        return std::exchange(has_acted_, false) || was_work_shown_;
    }
    const auto now = std::chrono::steady_clock::now();
    if (was_work_shown_ && now - shown_work_ < std::chrono::milliseconds(100)) return false;
    shown_work_ = now;
    return true;
}

bool CatalogueScreen::act() {
    if (worker_.is_at_work()) return look_after_work();
    const bool is_due = help_.is_due();
    std::string dropped;  // one after another, since each may take its time
    if (!dropped_.empty()) {
        dropped = std::move(dropped_.front());
        dropped_.pop_front();
    }
    begin([this, dropped = std::move(dropped)] { return round(dropped); }, patience_);
    return look_after_work() || is_due;
}

bool CatalogueScreen::round(const std::string& dropped) {
    bool acted = look_for_damage();
    // Not before the first frame, which nothing should hold up.
    if (was_drawn_ && is_looked_through_ && !std::exchange(has_said_words_, true)) {
        const auto words = words_at_start(*open_pages_);
        warnings_->insert(warnings_->end(), words.begin(), words.end());
    }
    if (!dropped.empty()) {
        take_dropped(dropped);
        acted = true;
    }
    acted = page().act() || acted;
    if (const auto coil = page().take_trip()) {
        desk().outbox().post(bench_page::ChooseCoil{*coil});
        go_to_page(0);
        acted = page().act();
    }
    if (const auto words = page().take_anew()) {
        put_up(pages_on(open_(open_pages_->workshop.catalogue().file().string())));
        is_looked_through_ = false;
        page().say(*words);
    }
    acted = page().look_round(std::chrono::milliseconds(8)) || acted;
    look_for_tabs();
    if (warnings_->empty()) return acted;
    std::string all;
    for (const auto& words : std::exchange(*warnings_, {}))
        all += (all.empty() ? "" : "\n") + words;
    page().say_failure(all);
    return true;
}

void CatalogueScreen::receive(const std::vector<std::string>& files) {
    dropped_.insert(dropped_.end(), files.begin(), files.end());
}

void CatalogueScreen::take_dropped(const std::string& file) {
    if (page().take_file(file)) return;
    switch (app::kind_of(file)) {
        case app::FileKind::catalogue:
            return open_catalogue(file);
        case app::FileKind::photograph:
            return take_photograph(file);
        case app::FileKind::text:
            go_to_page(0);
            return desk().outbox().post(bench_page::TakeInFile{file});
        case app::FileKind::unreadable:
            page().say_failure(coilbook::quoted(file, 200) +
                               " cannot be read. Drop a readings file (CSV), a catalogue or a "
                               "photograph.");
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
    if (open_pages_->has_unsaved()) {
        page().say_failure(
            "Something typed is not saved yet. Save it with Enter or take it back "
            "with Ctrl T, then drop " +
            name + " again.");
        return;
    }
    read(path);
}

void CatalogueScreen::open_first(const std::string& path) {
    has_nothing_yet_ = true;
    const auto work = [this, path] {
        wish_.quit = true;
        try {
            read(path);
            wish_.quit = false;
        } catch (const Error& error) {
            why_not_opened_ = error.what();
        } catch (const BrokenOff&) {  // the window closes, as is wanted
        }
        return true;
    };
    begin(work, {});
}

void CatalogueScreen::read(const std::string& path) {
    const std::string name = std::filesystem::path(path).filename().string();
    progress_->begin("Reading " + name);
    auto opened = pages_on(open_(path));
    auto words = words_at_start(*opened);
    progress_->reached(1);
    put_up(std::move(opened));
    is_looked_through_ = false;
    name_ = name;
    warnings_->insert(warnings_->end(), words.begin(), words.end());
    has_said_words_ = true;
}

}  // namespace coilbook::bench
