// The page's memory between frames, and the carrying out of its commands on the open catalogue.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "app/rigs.h"
#include "bench/outfit_desk.h"
#include "bench/pages/rigs/rigs_form.h"
#include "bench/pages/rigs/rigs_view.h"

namespace coilbook::bench::rigs_page {

class Desk : public OutfitDesk<Desk, View, Form, Command> {
  public:
    // `shared` must outlive the desk. Nothing is read before the page is looked at.
    explicit Desk(SharedBin& shared) : OutfitDesk(shared) {}

    [[nodiscard]] bool has_unsaved() const { return form_.entry && has_typed(*form_.entry); }
    // The coil whose code was scanned though it is in no rig; once.
    [[nodiscard]] std::optional<Id<Coil>> take_trip() { return std::exchange(trip_, {}); }

  private:
    friend OutfitDesk;

    void run(const EnterCode& command);
    void run(const ChooseRig& command);
    void run(const StepRig& command);
    void run(const StepPart& command);
    void run(const ChangeTip& command);
    void run(const TakeOut& command);
    void run(const BeginEntry& command);
    void run(const SaveEntry& command);
    void run(const RetireRig& command);
    void run(const SaveLabel& command);
    using OutfitDesk::run;

    void read();     // after any change of the catalogue
    void refresh();  // after one by this page
    void go_to(const Id<Rig>& rig);
    void find(const std::string& code);
    void put_on(const std::string& code, RigRole role);
    [[nodiscard]] const Rig* rig_at();
    [[nodiscard]] const app::RigPart* part_at() const;
    // Shows the problem in the message; gives whether there was none.
    template <class T>
    bool done(const Result<T>& result);
    [[nodiscard]] View made_view();
    [[nodiscard]] SheetView sheet_of(const Rig& rig);

    std::vector<app::RigPart> parts_;  // of the rig in hand
    std::vector<app::RigPart> tips_;   // of the bin, that it could cast
    std::string place_;                // of the rig in hand
    std::string code_error_;
    std::optional<Id<Coil>> trip_;
};

}  // namespace coilbook::bench::rigs_page
