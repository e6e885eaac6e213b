#include "bench/pages/instruments/instruments_page.h"

#include "bench/pages/instruments/instruments_screen.h"

namespace coilbook::bench::instruments_page {

std::vector<Action> InstrumentsPage::actions() {
    return instruments_actions(desk_.view());
}

void InstrumentsPage::perform(std::string_view action) {
    instruments_page::perform(action, place());
}

void InstrumentsPage::draw(const Look& look, bool is_covered) {
    instruments_page::draw(look, place(), is_covered);
}

}  // namespace coilbook::bench::instruments_page
