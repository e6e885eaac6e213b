// All that can be done on the page of one coil, by name.
#pragma once

#include <string_view>
#include <vector>

#include "bench/outbox.h"
#include "bench/pages/coil/coil_commands.h"
#include "bench/pages/coil/coil_form.h"
#include "bench/pages/coil/coil_view.h"
#include "bench/widgets/action.h"

namespace coilbook::bench::coil_page {

// Where things happen.
struct Place {
    const View& view;
    Form& form;
    Outbox<Command>& outbox;
};

[[nodiscard]] std::vector<Action> coil_actions(const View& view);
// Does the one of that name, if it is possible.
void perform(std::string_view action, const Place& at);
void watch_keys(const Place& at);

}  // namespace coilbook::bench::coil_page
