// The page's memory between frames, and the carrying out of its commands on the open catalogue.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/conflict_rows.h"
#include "bench/outfit_desk.h"
#include "bench/pages/conflicts/conflicts_form.h"
#include "bench/pages/conflicts/conflicts_view.h"

namespace coilbook::bench::conflicts_page {

class Desk : public OutfitDesk<Desk, View, Form, Command> {
  public:
    // `shared` must outlive the desk. Nothing is read before it is asked.
    explicit Desk(SharedBin& shared) : OutfitDesk(shared) {}

    // How many there are, as far as is known: looked for by count_now(), where others have written
    // since, and while there are some. Looking takes a second in a catalogue of 100000 coils, and
    // nothing that is done here makes a conflict.
    [[nodiscard]] std::size_t count();
    [[nodiscard]] std::size_t count_now();

  private:
    friend OutfitDesk;

    void run(const StepConflict& command);
    void run(const SettleAs& command);
    using OutfitDesk::run;

    void read();  // after any change of the catalogue
    [[nodiscard]] View made_view();
    [[nodiscard]] const app::ConflictToSettle* at_hand() const;

    std::vector<app::ConflictToSettle> conflicts_;
    std::optional<std::int64_t> read_at_;  // what was there when it was looked for
};

}  // namespace coilbook::bench::conflicts_page
