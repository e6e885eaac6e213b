#include "bench/pages/coil/coil_page.h"

#include "bench/pages/coil/coil_actions.h"
#include "bench/pages/coil/coil_screen.h"

namespace coilbook::bench::coil_page {

std::vector<Action> CoilPage::actions() {
    return coil_actions(desk_.view());
}

void CoilPage::perform(std::string_view action) {
    coil_page::perform(action, {desk_.view(), desk_.form(), desk_.outbox()});
}

void CoilPage::draw(const Look& look, bool is_covered) {
    coil_page::draw(look, {desk_.view(), desk_.form(), desk_.outbox()}, is_covered);
}

bool CoilPage::take_photograph(const std::string& file) {
    desk_.outbox().post(AddPhotograph{file});
    return true;
}

}  // namespace coilbook::bench::coil_page
