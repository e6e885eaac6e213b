#include "bench/pages/conflicts/conflicts_actions.h"

namespace coilbook::bench::conflicts_page {
namespace {

using Entry = DeskEntry<Desk>;

bool with_rows(Desk& desk) {
    return !desk.view().rows.empty();
}
template <int choice>
bool has_choice(Desk& desk) {
    return desk.view().choices.size() >= choice;
}
template <int choice>
void settle_as(Desk& desk) {
    desk.outbox().post(SettleAs{choice});
}

}  // namespace

const DeskActions<Desk>& table_of(const Desk&) {
    static const auto all = with_common<Desk>({
        Entry{{"settle as 1", "The first is right", control('1')}, has_choice<1>, settle_as<1>},
        Entry{{"settle as 2", "The second is right", control('2')}, has_choice<2>, settle_as<2>},
        Entry{{"settle as 3", "The third is right", control('3')}, has_choice<3>, settle_as<3>},
        Entry{{"settle as 4", "The fourth is right", control('4')}, has_choice<4>, settle_as<4>},
        Entry{{"conflict below", "Go to the conflict below", plain(key::down)},
              with_rows,
              [](Desk& desk) { desk.outbox().post(StepConflict{1}); }},
        Entry{{"conflict above", "Go to the conflict above", plain(key::up)},
              with_rows,
              [](Desk& desk) { desk.outbox().post(StepConflict{-1}); }},
    });
    return all;
}

}  // namespace coilbook::bench::conflicts_page
