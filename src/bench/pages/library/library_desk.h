// The page's memory between frames, and the carrying out of its commands on an open catalogue.
//
// Every command is one call of app, the same that the command line makes. An Error of the machine
// is caught here and said in the window. What takes its time (the score) is done a little at a
// time.
#pragma once

#include <chrono>
#include <optional>

#include "app/score_confirmed.h"
#include "bench/outbox.h"
#include "bench/pages/library/library_commands.h"
#include "bench/pages/library/library_form.h"
#include "bench/pages/library/library_model.h"
#include "bench/pages/library/library_view.h"
#include "bench/shared_bin.h"

namespace coilbook::bench {
struct WentBack;
}

namespace coilbook::bench::library_page {

class Desk {
  public:
    // `shared` must outlive the desk. Nothing is read before the page is looked at.
    explicit Desk(SharedBin& shared);

    // What to draw now. Made anew only after something has changed.
    [[nodiscard]] const View& view();
    [[nodiscard]] Form& form() { return form_; }
    [[nodiscard]] Outbox<Command>& outbox() { return outbox_; }

    // Carries out what was posted, in order. Gives whether there was anything.
    bool act();
    // Follows what was done to the catalogue, and goes on with the score for about `budget`. Gives
    // whether anything changed.
    bool look_round(std::chrono::milliseconds budget);
    // Work is left for look_round.
    [[nodiscard]] bool is_busy() const { return scorer_.has_value(); }
    // A class is being changed or added.
    [[nodiscard]] bool has_unsaved() const { return form_.task != Task::look; }
    // Says in the window what went wrong elsewhere.
    void say_failure(const std::string& words);

  private:
    void run(const ChooseClass& command);
    void run(const StepClass& command);
    void run(const NextDoubt& command);
    void run(const TakeBack& command);
    void run(const Undo& command);
    void run(const Redo& command);
    void run(const SavePicture& command);
    void run(const BeginTask& command);
    void run(const FinishTask& command);
    void run(const LeaveTask& command);
    void run(const CloseFailure& command);

    [[nodiscard]] Result<std::string> finished();  // the task; what to say of it
    void leave_task();
    void plan();  // what a split or a join as typed would do

    void went_back(const WentBack& done);
    void choose(const std::string& name);
    void keep_choice_in_sight();  // the chosen class is one of those that the filter lets through
    void refresh();               // after a change of the catalogue by this page
    void read();                  // after any change of it

    SharedBin& shared_;
    int edition_ = -1;  // of shared_, that situation_ shows; none yet
    Situation situation_;
    std::optional<app::ConfirmedScorer> scorer_;  // while it works
    Form form_;
    Form form_shown_;  // as it was when view_ was made
    View view_;
    bool is_stale_ = true;
    Outbox<Command> outbox_;
};

}  // namespace coilbook::bench::library_page
