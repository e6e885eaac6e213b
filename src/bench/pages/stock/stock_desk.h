// The page's memory between frames, and the carrying out of its commands on the open catalogue.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/custody.h"
#include "app/season.h"
#include "bench/outfit_desk.h"
#include "bench/pages/stock/stock_form.h"
#include "bench/pages/stock/stock_view.h"

namespace coilbook::bench::stock_page {

class Desk : public OutfitDesk<Desk, View, Form, Command> {
  public:
    // `shared` must outlive the desk. Nothing is read before the page is looked at.
    explicit Desk(SharedBin& shared) : OutfitDesk(shared) {}

    // The coil that the person wants to have in hand at the bench; once.
    [[nodiscard]] std::optional<Id<Coil>> take_trip() { return std::exchange(trip_, {}); }

  private:
    friend OutfitDesk;

    void run(const EnterCode& command);
    void run(const StepRow& command);
    void run(const TakeToTheBench& command);
    void run(const BeginSeason& command);
    void run(const SaveSeason& command);
    void run(const SaveLosses& command);
    using OutfitDesk::run;

    void read();    // after any change of the catalogue
    void answer();  // where what was asked for is
    [[nodiscard]] app::Season season() const;
    void read_losses();  // of the season, if they are not known
    [[nodiscard]] View made_view();
    void show_losses(View& view);

    std::vector<app::StockRow> rows_;
    std::string losses_of_;  // which days, and by what, losses_ and replace_ are about
    BarPlotView losses_;
    std::vector<std::string> replace_;
    std::optional<Id<Coil>> asked_coil_;
    std::string answer_, code_error_;
    std::vector<app::CustodyLine> record_;
    std::optional<Id<Coil>> trip_;
};

}  // namespace coilbook::bench::stock_page
