#include "app/early_care.h"

#include <utility>

#include "app/backups.h"
#include "store/catalogue.h"

namespace coilbook::app {

EarlyCare::EarlyCare(std::filesystem::path file, const Surroundings& surroundings) {
    progress_.begin("Looking through the catalogue before its first change");
    const auto today = std::chrono::floor<std::chrono::days>(surroundings.now());
    thread_ = std::thread([this, today, file = std::move(file)] {
        try {
            auto catalogue = store::Catalogue::open(file);
            catalogue.break_acts_off_when([this] { return progress_.is_unwanted(); });
            const auto breakable = catalogue.breaks_off_when_unwanted();
            care_for_day(catalogue, today, progress_);
        } catch (const Error&) {  // the first change says it
        } catch (const BrokenOff&) {
        }
        is_over_ = true;
    });
}

EarlyCare::~EarlyCare() {
    progress_.break_off();
    thread_.join();
}

void EarlyCare::wait(Progress& progress) const {
    if (is_over_) return;
    while (!is_over_) {
        if (progress.words() != progress_.words()) progress.begin(progress_.words());
        progress.reached(progress_.part());
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
}

}  // namespace coilbook::app
