// The page's memory between frames, and the carrying out of its commands on the open catalogue.
//
// Every command is one call of app, the same that the command line makes. A Problem stands beside
// its field; an Error of the machine is caught here and said in the window.
#pragma once

#include <chrono>
#include <optional>
#include <string>

#include "bench/outbox.h"
#include "bench/pages/coil/coil_commands.h"
#include "bench/pages/coil/coil_form.h"
#include "bench/pages/coil/coil_model.h"
#include "bench/pages/coil/coil_view.h"
#include "bench/shared_bin.h"

namespace coilbook::bench {
struct WentBack;
}

namespace coilbook::bench::coil_page {

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
    // Follows what was done to the catalogue. Gives whether anything changed.
    bool look_round();
    // The coil that the person wants to have in hand at the bench; once.
    [[nodiscard]] std::optional<Id<Coil>> take_trip() { return std::exchange(trip_, {}); }
    // The coil that the page is about; and another one from now on.
    [[nodiscard]] std::optional<Id<Coil>> coil_at() const { return coil_; }
    void follow(const Id<Coil>& coil);
    // Notes are typed and not saved.
    [[nodiscard]] bool has_unsaved() const;
    void say_failure(const std::string& words);

  private:
    void run(const ChooseCoil& command);
    void run(const EnterCode& command);
    void run(const StepCoil& command);
    void run(const SaveNotes& command);
    void run(const NoteCondition& command);
    void run(const NoteGoodAgain& command);
    void run(const AddPhotograph& command);
    void run(const PutPhotographAway& command);
    void run(const SavePicture& command);
    void run(const TakeToTheBench& command);
    void run(const Undo& command);
    void run(const Redo& command);
    void run(const CloseFailure& command);

    void went_back(const WentBack& done);
    void refresh();     // after a change of the catalogue by this page
    void read();        // after any change of it, or of the coil
    void read_photo();  // after another one was chosen
    [[nodiscard]] const Coil* coil_in_hand() const;

    SharedBin& shared_;
    int edition_ = -1;  // of shared_, that situation_ shows; none yet
    std::optional<Id<Coil>> coil_;
    Situation situation_;
    std::optional<Id<Coil>> trip_;
    Form form_;
    Form form_shown_;  // as it was when view_ was made
    View view_;
    bool is_stale_ = true;
    Outbox<Command> outbox_;
};

}  // namespace coilbook::bench::coil_page
