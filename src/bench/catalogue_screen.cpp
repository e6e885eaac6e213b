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

// Work that is over as soon as this needs no words.
constexpr std::chrono::milliseconds quick_enough{300};

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
    // The last, since its tab is not always there.
    pages.push_back(std::make_unique<conflicts_page::ConflictsPage>(shared));
}

CatalogueScreen::CatalogueScreen(app::Workshop workshop, std::string name, Open open,
                                 Warnings warnings)
    : open_(std::move(open)),
      warnings_(std::move(warnings)),
      open_pages_(pages_on(std::move(workshop))),
      name_(std::move(name)) {}

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

void CatalogueScreen::watch_keys() {
    const auto& pages = open_pages_->pages;
    for (std::size_t at = 0; at < pages.size() && at < 9; ++at) {
        if (pressed(alt(static_cast<int>('1' + at)))) go_to_page(at);
    }
    const auto tabs = page_names().size();
    if (pressed(control(key::tab))) go_to_page((at_ + 1) % tabs);
    if (pressed(control_shift(key::tab))) go_to_page((at_ + tabs - 1) % tabs);
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
    for (const auto& each : open_pages_->pages) {
        if (each->has_tab() || each.get() == &page()) names.push_back(each->name());
    }
    return names;
}

void CatalogueScreen::draw_in_bar(const Look& look, float width, float height) {
    const auto drawn = draw_tabs(look, page_names(), at_, width, height);
    if (drawn.chosen) go_to_page(*drawn.chosen);
    if (drawn.list_all) finder_.open();
    page().draw_in_bar(look, width - drawn.width, height);
}

void CatalogueScreen::draw(const Look& look) {
    was_drawn_ = true;
    if (worker_) {
        page().draw(look, true);
        const WorkPanel panel{worker_->lasted() > quick_enough,
                              has_nothing_yet_,
                              worker_->words(),
                              worker_->part(),
                              static_cast<int>(worker_->lasted() / std::chrono::seconds(1)),
                              worker_->is_unwanted()};
        if (draw_work_panel(look, panel)) worker_->break_off();
        return;
    }
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
}

void CatalogueScreen::begin(std::string words, Worker::Run run,
                            std::function<void(const WorkDone&)> end) {
    end_of_work_ = std::move(end);
    worker_ = std::make_unique<Worker>(std::move(words), std::move(run));
}

void CatalogueScreen::begin(const LongWork& work) {
    auto& workshop = open_pages_->workshop;
    const auto finish = [this](const WorkDone& done) { page().finish_work(done); };
    const auto file = workshop.catalogue().file();
    if (file.empty()) {  // nobody else can open what is in memory
        app::Progress progress;
        const auto here = [&](app::Progress& told) { return work.run(workshop, told); };
        return finish(done_or_told(work.words, here, progress));
    }
    const auto surroundings = workshop.surroundings();
    const auto apart = [work, file, surroundings](app::Progress& progress) {
        return done_apart(work, file, surroundings, progress);
    };
    begin(work.words, apart, finish);
}

// Gives whether there is anything new to be seen of it.
bool CatalogueScreen::go_on_working() {
    const auto now = std::chrono::steady_clock::now();
    if (!worker_->is_over()) {
        if (now - shown_work_ < std::chrono::milliseconds(100)) return false;
        shown_work_ = now;
        return true;
    }
    const WorkDone done = worker_->done();
    worker_.reset();
    try {
        std::exchange(end_of_work_, {})(done);
    } catch (const Error& error) {
        page().say_failure(error.what());
    }
    return true;
}

bool CatalogueScreen::act() {
    if (worker_) return go_on_working();
    bool acted = look_for_damage() || help_.is_due();
    // Not before the first frame, which nothing should hold up.
    if (was_drawn_ && is_looked_through_ && !std::exchange(has_said_words_, true)) {
        const auto words = words_at_start(*open_pages_);
        warnings_->insert(warnings_->end(), words.begin(), words.end());
    }
    if (!dropped_.empty()) {  // one after another, since each may take its time
        const std::string file = dropped_.front();
        dropped_.pop_front();
        take_dropped(file);
        acted = true;
        if (worker_) return true;
    }
    acted = page().act() || acted;
    if (const auto coil = page().take_trip()) {
        desk().outbox().post(bench_page::ChooseCoil{*coil});
        go_to_page(0);
        acted = page().act();
    }
    if (const auto work = page().take_work()) {
        begin(*work);
        return true;
    }
    acted = page().look_round(std::chrono::milliseconds(8)) || acted;
    if (warnings_->empty()) return acted;
    std::string all;
    for (const auto& words : std::exchange(*warnings_, {}))
        all += (all.empty() ? "" : "\n") + words;
    page().say_failure(all);
    return true;
}

bool CatalogueScreen::has_unsaved() const {
    return std::ranges::any_of(open_pages_->pages,
                               [](const auto& each) { return each->has_unsaved(); });
}

void CatalogueScreen::receive(const std::vector<std::string>& files) {
    dropped_.insert(dropped_.end(), files.begin(), files.end());
}

void CatalogueScreen::take_dropped(const std::string& file) {
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
    if (has_unsaved()) {
        page().say_failure(
            "Something typed is not saved yet. Save it with Enter or take it back "
            "with Ctrl T, then drop " +
            name + " again.");
        return;
    }
    read(path, [this](const std::string& why) {
        if (!why.empty()) page().say_failure(why);
    });
}

void CatalogueScreen::open_first(const std::string& path) {
    has_nothing_yet_ = true;
    read(path, [this](const std::string& why) {
        why_not_opened_ = why;
        wish_.quit = true;
    });
}

void CatalogueScreen::read(const std::string& path,
                           std::function<void(const std::string&)> failed) {
    const std::string name = std::filesystem::path(path).filename().string();
    const auto opened = std::make_shared<std::unique_ptr<OpenPages>>();
    const auto words = std::make_shared<std::vector<std::string>>();
    const auto open = [this, opened, words, path](app::Progress& progress) -> WorkDone {
        *opened = pages_on(open_(path));
        *words = words_at_start(**opened);
        progress.reached(1);
        return {};
    };
    const auto show = [this, opened, words, name,
                       failed = std::move(failed)](const WorkDone& done) {
        if (done != WorkDone{}) return failed(done.failure);
        has_nothing_yet_ = false;
        put_up(std::move(*opened));
        is_looked_through_ = false;
        name_ = name;
        warnings_->insert(warnings_->end(), words->begin(), words->end());
        has_said_words_ = true;
    };
    begin("Reading " + name, open, show);
}

}  // namespace coilbook::bench
