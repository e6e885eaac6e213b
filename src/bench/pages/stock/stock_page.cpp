#include "bench/pages/stock/stock_page.h"

#include "bench/pages/stock/stock_actions.h"
#include "bench/pages/stock/stock_screen.h"

namespace coilbook::bench::stock_page {

std::string StockPage::title() {
    const View& view = desk_.view();
    return view.answer.empty() ? view.title : view.answer;
}

std::vector<Action> StockPage::actions() {
    return actions_of(desk_);
}

void StockPage::perform(std::string_view action) {
    bench::perform(action, desk_);
}

void StockPage::draw(const Look& look, bool is_covered) {
    stock_page::draw(look, desk_, is_covered);
}

}  // namespace coilbook::bench::stock_page
