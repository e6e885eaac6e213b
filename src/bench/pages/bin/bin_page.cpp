#include "bench/pages/bin/bin_page.h"

#include "bench/pages/bin/bin_actions.h"
#include "bench/pages/bin/bin_screen.h"

namespace coilbook::bench::bin_page {

std::vector<Action> BinPage::actions() {
    return actions_of(desk_);
}

void BinPage::perform(std::string_view action) {
    bench::perform(action, desk_);
}

void BinPage::draw(const Look& look, bool is_covered) {
    bin_page::draw(look, desk_, is_covered);
}

}  // namespace coilbook::bench::bin_page
