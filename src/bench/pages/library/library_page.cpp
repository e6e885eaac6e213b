#include "bench/pages/library/library_page.h"

#include "bench/pages/library/library_actions.h"
#include "bench/pages/library/library_screen.h"

namespace coilbook::bench::library_page {

std::vector<Action> LibraryPage::actions() {
    return library_actions(desk_.view(), desk_.form());
}

void LibraryPage::perform(std::string_view action) {
    library_page::perform(action, desk_.view(), desk_.form(), desk_.outbox());
}

void LibraryPage::draw(const Look& look, bool is_covered) {
    library_page::draw(look, desk_.view(), desk_.form(), desk_.outbox(), is_covered);
}

}  // namespace coilbook::bench::library_page
