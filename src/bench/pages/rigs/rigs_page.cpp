#include "bench/pages/rigs/rigs_page.h"

#include "bench/pages/rigs/rigs_actions.h"
#include "bench/pages/rigs/rigs_screen.h"

namespace coilbook::bench::rigs_page {

std::string RigsPage::title() {
    const View& view = desk_.view();
    return view.has_rig ? "Rig " + view.sheet.title : "Rigs";
}

std::vector<Action> RigsPage::actions() {
    return actions_of(desk_);
}

void RigsPage::perform(std::string_view action) {
    bench::perform(action, desk_);
}

void RigsPage::draw(const Look& look, bool is_covered) {
    rigs_page::draw(look, desk_, is_covered);
}

}  // namespace coilbook::bench::rigs_page
