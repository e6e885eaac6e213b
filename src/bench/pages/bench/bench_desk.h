// The page's memory between frames, and the carrying out of its commands on an open catalogue.
//
// Every command is one call of app, the same that the command line makes. A Problem goes to its
// field; an Error of the machine is caught here, said in the window, and nothing typed is lost.
#pragma once

#include <chrono>
#include <functional>
#include <optional>
#include <vector>

#include "app/workshop.h"
#include "bench/outbox.h"
#include "bench/pages/bench/bench_commands.h"
#include "bench/pages/bench/bench_form.h"
#include "bench/pages/bench/bench_model.h"
#include "bench/pages/bench/bench_view.h"
#include "bench/shared_bin.h"

namespace coilbook::bench {
struct WentBack;
}

namespace coilbook::bench::bench_page {

class Desk {
  public:
    // What the stopwatch goes by.
    using Clock = std::function<std::chrono::steady_clock::time_point()>;

    // `shared` must outlive the desk. Throws Error if the catalogue cannot be read.
    explicit Desk(SharedBin& shared, Clock clock = std::chrono::steady_clock::now);

    // What to draw now. Made anew only after something has changed.
    [[nodiscard]] const View& view();
    [[nodiscard]] Form& form() { return form_; }
    [[nodiscard]] Outbox<Command>& outbox() { return outbox_; }

    // Carries out what was posted, in order. Gives whether there was anything.
    bool act();
    // Looks whether another program has written, and works out verdicts of coils in the bin that
    // nobody asked for yet, for about `budget`. Gives whether anything changed.
    bool look_round(std::chrono::milliseconds budget);
    // Verdicts are still missing from the bin, or the stopwatch runs.
    [[nodiscard]] bool is_busy() const { return shared_.is_busy() || watch_started_.has_value(); }
    // Something is typed and not saved, in the coil in hand or in one put aside.
    [[nodiscard]] bool has_unsaved() const;
    // The coil in hand.
    [[nodiscard]] std::optional<Id<Coil>> coil_at() const {
        if (!situation_.in_hand) return std::nullopt;
        return situation_.in_hand->coil.id;
    }
    // Says in the window what went wrong elsewhere.
    void say_failure(const std::string& words);

  private:
    void run(const ChooseCoil& command);
    void run(const EnterCode& command);
    void run(const MakeCoil& command);
    void run(const GiveCode& command);
    void run(const SaveReading& command);
    void run(const SaveNotes& command);
    void run(const LookForScan& command);
    void run(const TakeBackReading& command);
    void run(const TakeBackOdd& command);
    void run(const CorrectUnits& command);
    void run(const PressStopwatch& command);
    void run(const DropStopwatch& command);
    void run(const WriteLabel& command);
    void run(const SavePicture& command);
    void run(const Confirm& command);
    void run(const TakeBackConfirmation& command);
    void run(const NextCoil& command);
    void run(const StepCoil& command);
    void run(const AskNext& command);
    void run(const AskInOtherOrder& command);
    void run(const TakeInFile& command);
    void run(const Undo& command);
    void run(const Redo& command);
    void run(const CloseFailure& command);

    void went_back(const WentBack& done);
    void ask(const Question& question);
    void refresh();                      // after a change of the catalogue by this page
    void refresh(const Id<Coil>& coil);  // after a change of that coil alone
    void read_bin();                     // after any change of the catalogue
    void look_at_lines();
    void read_coil_in_hand();  // the same, for the one coil
    void follow_units();       // the fields keep their meaning under other units
    [[nodiscard]] Typed kept_texts() const { return typed_of(*situation_.in_hand, units_); }
    void pick_up(const Id<Coil>& coil);
    void put_down();  // keeps what is typed and not saved
    void run_down();  // the stopwatch is off
    [[nodiscard]] const BinLine* scanned(const std::string& text) const;
    [[nodiscard]] const Coil* coil_in_hand() const;

    SharedBin& shared_;
    app::Workshop& workshop_;  // of shared_, and its bin
    app::Bin& bin_;
    int edition_ = 0;         // of shared_, that situation_ shows
    int lines_edition_ = -1;  // of shared_, that the list shows
    Clock clock_;
    std::optional<std::chrono::steady_clock::time_point> watch_started_;
    Situation situation_;
    FieldUnits units_;  // of bare numbers, that the texts in form_ are in
    Form form_;
    Form form_shown_;  // as it was when view_ was made
    View view_;
    bool is_stale_ = true;
    Outbox<Command> outbox_;
};

}  // namespace coilbook::bench::bench_page
