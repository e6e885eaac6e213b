// The page's memory between frames, and the carrying out of its commands on an open catalogue.
//
// Every command is one call of app, the same that the command line makes. A Problem goes to its
// field; an Error of the machine is caught here, said in the window, and nothing typed is lost.
#pragma once

#include <chrono>

#include "app/workshop.h"
#include "bench/outbox.h"
#include "bench/pages/instruments/instruments_commands.h"
#include "bench/pages/instruments/instruments_form.h"
#include "bench/pages/instruments/instruments_model.h"
#include "bench/pages/instruments/instruments_view.h"
#include "bench/shared_bin.h"

namespace coilbook::bench::instruments_page {

class Desk {
  public:
    // `shared` must outlive the desk. Throws Error if the catalogue cannot be read.
    explicit Desk(SharedBin& shared);

    // What to draw now. Made anew only after something has changed.
    [[nodiscard]] const View& view();
    [[nodiscard]] Form& form() { return form_; }
    [[nodiscard]] Outbox<Command>& outbox() { return outbox_; }
    // The instrument in hand, as the catalogue has it; null without one.
    [[nodiscard]] const app::AnyInstrument* instrument() const;

    // Carries out what was posted, in order. Gives whether there was anything.
    bool act();
    // Looks whether the catalogue has changed elsewhere. Gives whether anything changed.
    bool look_round();
    // Something is read or typed and not saved.
    [[nodiscard]] bool has_unsaved() const;
    // What a person should know at the start: that a study is not finished. Mostly empty.
    [[nodiscard]] std::string word_at_start() const;
    // Says in the window what went wrong elsewhere.
    void say_failure(const std::string& words);

  private:
    void run(const ChooseInstrument& command);
    void run(const EnterCode& command);
    void run(const StepInstrument& command);
    void run(const SaveCheck& command);
    void run(const SaveFigures& command);
    void run(const FindSqueeze& command);
    void run(const BeginStudy& command);
    void run(const GoOnWithStudy& command);
    void run(const ThrowUnfinishedAway& command);
    void run(const KeepStudy& command);
    void run(const SavePicture& command);
    void run(const Undo& command);
    void run(const Redo& command);
    void run(const CloseFailure& command);

    void read_instruments();  // after any change of the catalogue
    void read_coated();       // the coils that the micrometer in hand can be tried on
    void go_back_or_forth(bool forth);
    void keep_study();  // on the disk, if it is another one than when it was kept last

    SharedBin& shared_;
    app::Workshop& workshop_;  // of shared_
    int edition_ = 0;          // of shared_, that situation_ shows
    Situation situation_;
    Form form_;
    Form form_shown_;                                 // as it was when view_ was made
    std::optional<app::UnfinishedStudy> study_kept_;  // as it lies on the disk
    View view_;
    bool is_stale_ = true;
    Outbox<Command> outbox_;
};

}  // namespace coilbook::bench::instruments_page
