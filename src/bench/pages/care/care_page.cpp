#include "bench/pages/care/care_page.h"

#include "bench/pages/care/care_actions.h"
#include "bench/pages/care/care_screen.h"

namespace coilbook::bench::care_page {

std::vector<Action> CarePage::actions() {
    return actions_of(desk_);
}

void CarePage::perform(std::string_view action) {
    bench::perform(action, desk_);
}

void CarePage::draw(const Look& look, bool is_covered) {
    care_page::draw(look, desk_, is_covered);
}

}  // namespace coilbook::bench::care_page
