#include "bench/pages/conflicts/conflicts_page.h"

#include <fmt/format.h>

#include "bench/pages/conflicts/conflicts_actions.h"
#include "bench/pages/conflicts/conflicts_screen.h"

namespace coilbook::bench::conflicts_page {

std::string ConflictsPage::word_at_start() {
    const auto count = desk_.count_now();
    if (count == 0) return "";
    return fmt::format(
        "Copies of this catalogue that came together disagree on {} {}. Alt 9 shows {}.", count,
        count == 1 ? "thing" : "things", count == 1 ? "it" : "them");
}

std::vector<Action> ConflictsPage::actions() {
    return actions_of(desk_);
}

void ConflictsPage::perform(std::string_view action) {
    bench::perform(action, desk_);
}

void ConflictsPage::draw(const Look& look, bool is_covered) {
    conflicts_page::draw(look, desk_, is_covered);
}

}  // namespace coilbook::bench::conflicts_page
