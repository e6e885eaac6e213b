#include "bench/pages/day/day_page.h"

#include "bench/pages/day/day_actions.h"
#include "bench/pages/day/day_screen.h"

namespace coilbook::bench::day_page {

std::string DayPage::title() {
    const View& view = desk_.view();
    return view.day_short + ": " + view.title;
}

std::vector<Action> DayPage::actions() {
    return actions_of(desk_);
}

void DayPage::perform(std::string_view action) {
    bench::perform(action, desk_);
}

void DayPage::draw(const Look& look, bool is_covered) {
    day_page::draw(look, desk_, is_covered);
}

}  // namespace coilbook::bench::day_page
