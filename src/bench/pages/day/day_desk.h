// The page's memory between frames, and the carrying out of its commands on the open catalogue.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/custody.h"
#include "app/day.h"
#include "bench/outfit_desk.h"
#include "bench/pages/day/day_form.h"
#include "bench/pages/day/day_view.h"

namespace coilbook::bench::day_page {

class Desk : public OutfitDesk<Desk, View, Form, Command> {
  public:
    // `shared` must outlive the desk. Nothing is read before the page is looked at.
    explicit Desk(SharedBin& shared) : OutfitDesk(shared) {}

    [[nodiscard]] bool has_unsaved() const { return form_.entry && has_typed(*form_.entry); }

  private:
    friend OutfitDesk;

    void run(const EnterCode& command);
    void run(const StepDay& command);
    void run(const ChooseBoat& command);
    void run(const StepBoat& command);
    void run(const StepRow& command);
    void run(const TickRow& command);
    void run(const DropRow& command);
    void run(const NoteRow& command);
    void run(const FillGap& command);
    void run(const CallOff& command);
    void run(const SavePacking& command);
    void run(const BeginEntry& command);
    void run(const SaveEntry& command);
    void run(const EndRow& command);
    using OutfitDesk::run;

    // What a scanned code means in each task; an error of it goes to code_error_.
    void plan(const std::string& code);
    // What is on no plan is asked about first, unless it is to be packed all the same.
    void pack(const std::string& code, bool even_unplanned);
    // What is in a rig is asked about first, unless it came back without the rig.
    void take_back(const std::string& code, bool without_its_rig);
    void find_person(const std::string& code);

    void save_outing();
    void save_boat();
    void save_client();
    void end_entry(const std::string& message);
    void fail(const Problem& problem);  // beside the entry's field

    void read();     // after any change of the catalogue, or of the day
    void refresh();  // after one by this page
    bool hand(Whereabouts to, const std::string& code, const std::string& boat = {});
    // Shows the problem beside the field for codes; gives whether there was none.
    template <class T>
    bool done(const Result<T>& result) {
        if (!result) {
            code_error_ = said_here(result.error());
            message_.clear();
            return false;
        }
        code_error_.clear();
        refresh();
        return true;
    }
    [[nodiscard]] const app::BoatDay* boat_at() const;
    [[nodiscard]] const app::Carried* carried_at() const;
    [[nodiscard]] const Boat* person_boat() const;
    [[nodiscard]] const Client* person_client() const;
    [[nodiscard]] std::vector<std::string> keys() const;  // of the rows shown
    // Words on what is wrong with the thing of that code by now: "; it is promised twice".
    [[nodiscard]] std::string doubts_on(const std::string& code) const;
    [[nodiscard]] std::vector<const app::PlanProblem*> problems_in_order() const;

    [[nodiscard]] View made_view();
    void show_boats(View& view) const;
    void show_rows(View& view) const;
    void show_problems(View& view) const;
    void show_task(View& view) const;

    Day today_{};
    std::vector<app::BoatDay> boats_;         // that go out on the day
    std::vector<app::PlanProblem> problems_;  // of the day
    std::vector<app::OutThing> out_;
    std::vector<Boat> all_boats_;
    std::vector<Client> clients_;
    std::string code_error_;
    std::string question_;  // about form_.asked_code
};

}  // namespace coilbook::bench::day_page
