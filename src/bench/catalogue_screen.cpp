#include "bench/catalogue_screen.h"

#include <chrono>
#include <filesystem>
#include <utility>

#include "app/dropped_file.h"
#include "base/error.h"
#include "base/text.h"
#include "bench/pages/bench/bench_screen.h"

namespace coilbook::bench {

CatalogueScreen::CatalogueScreen(app::Workshop workshop, std::string name, Open open,
                                 Warnings warnings)
    : open_(std::move(open)),
      warnings_(std::move(warnings)),
      workshop_(std::make_unique<app::Workshop>(std::move(workshop))),
      desk_(std::make_unique<bench_page::Desk>(*workshop_)),
      name_(std::move(name)) {}

std::string CatalogueScreen::title() {
    const std::string& coil = desk_->view().title;
    return coil.empty() ? "Coilbook" : coil + " – Coilbook";
}

void CatalogueScreen::draw_in_bar(const Look& look, float width, float height) {
    bench_page::draw_question(look, desk_->view(), desk_->outbox(), width, height);
}

void CatalogueScreen::draw(const Look& look) {
    bench_page::draw(look, desk_->view(), desk_->form(), desk_->outbox());
}

bool CatalogueScreen::act() {
    bool acted = desk_->act();
    acted = desk_->look_round(std::chrono::milliseconds(8)) || acted;
    if (warnings_->empty()) return acted;
    desk_->say_failure(warnings_->back());
    warnings_->pop_back();
    return true;
}

void CatalogueScreen::receive(const std::vector<std::string>& files) {
    for (const std::string& file : files) {
        switch (app::kind_of(file)) {
            case app::FileKind::catalogue:
                open_catalogue(file);
                break;
            case app::FileKind::text:
                desk_->outbox().post(bench_page::TakeInFile{file});
                break;
            case app::FileKind::unreadable:
                desk_->say_failure(coilbook::quoted(file, 200) +
                                   " cannot be read. Drop a readings file (CSV) or a catalogue.");
                break;
        }
    }
}

void CatalogueScreen::open_catalogue(const std::string& path) {
    const std::string name = std::filesystem::path(path).filename().string();
    if (desk_->has_unsaved()) {
        desk_->say_failure(
            "Something typed is not saved yet. Save it with Enter or take it back "
            "with Ctrl T, then drop " +
            name + " again.");
        return;
    }
    try {
        auto workshop = std::make_unique<app::Workshop>(open_(path));
        auto desk = std::make_unique<bench_page::Desk>(*workshop);
        desk_ = std::move(desk);
        workshop_ = std::move(workshop);
        name_ = name;
    } catch (const Error& error) {
        desk_->say_failure(error.what());
    }
}

}  // namespace coilbook::bench
