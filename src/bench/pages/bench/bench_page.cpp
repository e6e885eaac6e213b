#include "bench/pages/bench/bench_page.h"

#include "bench/pages/bench/bench_actions.h"
#include "bench/pages/bench/bench_screen.h"

namespace coilbook::bench::bench_page {

std::vector<Action> BenchPage::actions() {
    return bench_actions(desk_.view());
}

void BenchPage::perform(std::string_view action) {
    bench_page::perform(action, desk_.view(), desk_.form(), desk_.outbox());
}

void BenchPage::draw_in_bar(const Look& look, float width, float height) {
    draw_question(look, desk_.view(), desk_.outbox(), width, height);
}

void BenchPage::draw(const Look& look, bool is_covered) {
    bench_page::draw(look, desk_.view(), desk_.form(), desk_.outbox(), is_covered);
}

}  // namespace coilbook::bench::bench_page
