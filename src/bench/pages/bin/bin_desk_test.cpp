#include "bench/pages/bin/bin_desk.h"

#include <doctest/doctest.h>

#include <thread>

#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/outfit.h"
#include "app/rigs.h"
#include "app/take_in.h"
#include "app/undo.h"
#include "bench/pages/bin/bin_actions.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bin_page;

namespace {

// Three T-11, two of 30 gr/ft and 2 g/cm3, which is no class, and one that was not measured.
// Diameters: √(4 λ / (π ρ)) of 11.1 gr/ft and 4.2 g/cm3 is 0.846 mm, of 30 and 2 it is 2.015 mm.
constexpr const char* six_coils =
    "code,sample_length,sample_weight,diameters,tint,taper\n"
    "A1,24 in,22.2 gr,0.845 mm 0.846 mm,black,level\n"
    "A2,24 in,22.3 gr,0.846 mm 0.845 mm,black,level\n"
    "A3,24 in,22.1 gr,0.844 mm 0.846 mm,black,level\n"
    "N,,,,,\n"
    "X1,24 in,60.0 gr,2.015 mm 2.014 mm,,\n"
    "X2,24 in,60.4 gr,2.013 mm 2.018 mm,,\n";

struct Seat {
    app::Workshop workshop = app::workshop_in_memory();
    std::unique_ptr<SharedBin> shared;
    std::unique_ptr<Desk> desk;

    Seat() {
        std::istringstream file(six_coils);
        REQUIRE(app::take_in_readings(workshop, file, "six.csv", "take in six").has_value());
        shared = std::make_unique<SharedBin>(workshop);
        desk = std::make_unique<Desk>(*shared);
        settle();
    }
    void settle() {
        do {
            desk->act();
            desk->look_round(std::chrono::milliseconds{50});
            if (desk->is_busy()) std::this_thread::sleep_for(std::chrono::milliseconds{1});
        } while (desk->is_busy());
    }
    void perform(const char* action) {
        bench::perform(action, *desk);
        settle();
    }
    void go_to(const char* code) {
        bin_page::go_to(desk->form(), app::coil_by_code(workshop, code)->id);
    }
    [[nodiscard]] std::vector<std::string> codes() {
        std::vector<std::string> codes;
        const View& view = desk->view();
        for (std::size_t row = 0; row < view.count; ++row) codes.push_back(view.row(row).code);
        return codes;
    }
    [[nodiscard]] std::string class_of(const char* code) {
        const auto at = shared->bin().find_code(code);
        return shared->bin().entry(at.value()).confirmed_class.value_or("");
    }
};

using Codes = std::vector<std::string>;

}  // namespace

TEST_SUITE("The page of the bin") {
    TEST_CASE("the labels of the ticked coils are written beside the catalogue, as one sheet") {
        const TemporaryFolder folder;
        app::Workshop workshop =
            app::Workshop::create(folder / "winter.coilbook", app::foretold_surroundings());
        std::istringstream file(six_coils);
        REQUIRE(app::take_in_readings(workshop, file, "six.csv", "take in six").has_value());
        SharedBin shared(workshop);
        Desk desk(shared);
        const auto write = [&] {
            bench::perform("labels", desk);
            desk.act();
            CHECK(workshop.progress().part() == 1);
        };
        REQUIRE(desk.view().count == 6);
        write();
        CHECK(std::filesystem::exists(folder / "winter-label-A1.pdf"));
        desk.tick_all_shown();
        write();
        CHECK(std::filesystem::exists(folder / "winter-label-6-coils.pdf"));
        CHECK(desk.view().message.starts_with("Labels of 6 coils: "));
        // Broken off, no file is there.
        bench::perform("labels", desk);
        workshop.progress().break_off();
        desk.act();
        CHECK(mentions(desk.view().failure, "broken off"));
        CHECK_FALSE(std::filesystem::exists(folder / "winter-label-6-coils-2.pdf"));
    }

    TEST_CASE("a row says what the coil is, and how surely") {
        Seat seat;
        const RowView row = seat.desk->view().row(0);
        CHECK(row.code == "A1");
        CHECK(row.what == "T-11");
        CHECK(row.state.word == "ready to confirm");
        CHECK(row.weight.starts_with("11.10"));
        CHECK(seat.desk->view().row(3).state.word == "unmeasured");
        CHECK(seat.desk->view().row(3).weight.empty());
    }

    TEST_CASE("typing finds, and the keyboard stands on the first that fits") {
        Seat seat;
        seat.desk->form().looked_for = "x";
        CHECK(seat.codes() == Codes{"X1", "X2"});
        CHECK(seat.desk->view().summary == "2 of 6 coils");
        CHECK(seat.desk->view().at == 0U);
        seat.desk->form().looked_for = "nothing like it";
        CHECK(seat.codes().empty());
        CHECK_FALSE(seat.desk->view().nothing.empty());
        seat.perform("show all");
        CHECK(seat.codes().size() == 6);
    }

    TEST_CASE("Enter takes the coil to the bench, once") {
        Seat seat;
        seat.desk->form().looked_for = "A3";
        seat.perform("take to the bench");
        CHECK(seat.desk->take_trip() == app::coil_by_code(seat.workshop, "A3")->id);
        CHECK_FALSE(seat.desk->take_trip());
    }

    TEST_CASE("a coil that is ready is confirmed, and the word taken back by undo") {
        Seat seat;
        seat.go_to("A2");
        CHECK(seat.desk->view().confirm_label == "Confirm A2 as T-11");
        seat.perform("confirm ready");
        CHECK(seat.class_of("A2") == "T-11");
        seat.perform("undo");
        CHECK(seat.class_of("A2").empty());
        seat.perform("redo");
        CHECK(seat.class_of("A2") == "T-11");
    }

    TEST_CASE("of those that are ticked only the ready ones are confirmed, in one act") {
        Seat seat;
        seat.perform("tick all");
        CHECK(seat.desk->view().summary == "6 coils, 6 ticked");
        CHECK(seat.desk->view().confirm_label == "Confirm 3 coils that are ready");
        const auto acts = app::history(seat.workshop).size();
        seat.perform("confirm ready");
        CHECK(app::history(seat.workshop).size() == acts + 1);
        CHECK(seat.class_of("A1") == "T-11");
        CHECK(seat.class_of("X1").empty());
        CHECK(seat.desk->view().summary == "6 coils");  // ticked no more
    }

    TEST_CASE("confirming or handing out many is done for all or, broken off, for none") {
        Seat seat;
        REQUIRE(app::add_boat(seat.workshop, "Heron", {}, {}).has_value());
        seat.perform("tick all");
        const auto acts = app::history(seat.workshop).size();
        seat.workshop.progress().break_off();
        seat.perform("confirm ready");
        seat.desk->outbox().post(HandOut{"Heron"});
        seat.desk->act();
        CHECK(mentions(seat.desk->view().failure, "everything is as it was before"));
        CHECK(app::history(seat.workshop).size() == acts);
        CHECK(seat.desk->view().summary == "6 coils, 6 ticked");
        seat.workshop.progress().begin_anew("");
        seat.perform("confirm ready");
        CHECK(seat.class_of("A1") == "T-11");
        // Undoing it is broken off in the middle of its writing, and then done.
        seat.workshop.progress().break_off();
        seat.perform("undo");
        CHECK(seat.class_of("A1") == "T-11");
        seat.workshop.progress().begin_anew("");
        seat.perform("undo");
        CHECK(seat.class_of("A1").empty());
    }

    TEST_CASE("what is not ready cannot be confirmed from here") {
        Seat seat;
        seat.go_to("N");
        CHECK_FALSE(seat.desk->view().may_confirm);
        seat.perform("confirm ready");
        CHECK(seat.class_of("N").empty());
    }

    TEST_CASE("ticking all that is shown, a second time none") {
        Seat seat;
        seat.desk->form().looked_for = "t-11";
        seat.perform("tick all");
        CHECK(seat.desk->form().ticked.size() == 3);
        seat.perform("tick all");
        CHECK(seat.desk->form().ticked.empty());
    }

    TEST_CASE("what is left is told by state, and only coils of one are shown") {
        Seat seat;
        const auto states = seat.desk->view().states;
        REQUIRE(states.size() == 5);
        CHECK(states[0].count == "6");
        CHECK(states[1].count == "1");
        CHECK(states[3].count == "3");
        seat.perform("next state");
        CHECK(seat.codes() == Codes{"N"});
    }

    TEST_CASE("coils that are one line are found, and one that is unlisted is named") {
        Seat seat;
        seat.perform("find groups");
        seat.go_to("A2");
        REQUIRE(seat.desk->view().group);
        CHECK(seat.desk->view().group->codes == "A1, A2 and A3");
        CHECK(seat.desk->view().group->what_it_is.starts_with("T-11"));
        CHECK_FALSE(seat.desk->view().group->asks_for_a_name);
        seat.go_to("X1");
        REQUIRE(seat.desk->view().group);
        CHECK(seat.desk->view().group->asks_for_a_name);

        seat.desk->outbox().post(NameGroup{"T-11", ""});  // taken
        seat.settle();
        CHECK_FALSE(seat.desk->view().name_error.empty());
        seat.desk->outbox().post(NameGroup{"old mono", "level line"});
        seat.settle();
        CHECK(seat.desk->view().name_error.empty());
        CHECK(seat.shared->bin().summary(4).label.name == "old mono");
        CHECK(seat.desk->view().group->what_it_is.starts_with("old mono"));
        seat.perform("undo");
        CHECK(seat.shared->bin().summary(4).label.name == "unlisted");
    }

    TEST_CASE("what another page changed is followed") {
        Seat seat;
        REQUIRE(app::add_coil(seat.workshop, "B9").has_value());
        seat.shared->refresh();
        seat.settle();
        CHECK(seat.codes() == Codes{"A1", "A2", "A3", "B9", "N", "X1", "X2"});
    }
}

TEST_SUITE("Handing out from the bin") {
    TEST_CASE("the ticked coils go to a boat in one act, and undo brings all of them back") {
        Seat seat;
        REQUIRE(app::add_boat(seat.workshop, "Heron", {}, {}).has_value());
        REQUIRE(app::add_boat(seat.workshop, "Puddle", {}, {}).has_value());
        seat.shared->refresh();
        seat.settle();
        REQUIRE(seat.codes().size() == 6);
        seat.go_to("A1");
        seat.desk->tick_this();
        seat.go_to("A2");
        seat.desk->tick_this();
        const auto acts = app::history(seat.workshop).size();
        seat.perform("hand out");
        CHECK(mentions(seat.desk->view().hand_title, "2 coils go to which boat"));
        CHECK(seat.desk->view().hand_choices == std::vector<std::string>{"Heron", "Puddle"});
        seat.desk->form().hand_to = "he";
        CHECK(seat.desk->view().hand_choices == std::vector<std::string>{"Heron"});
        seat.desk->outbox().post(HandOut{"he"});
        seat.settle();
        CHECK(seat.desk->view().message == "With boat Heron: 2 coils");
        CHECK_FALSE(seat.desk->form().is_handing);
        CHECK(seat.desk->form().ticked.empty());
        CHECK(app::history(seat.workshop).size() == acts + 1);
        for (const char* code : {"A1", "A2"}) {
            CHECK(mentions(app::where_is(seat.workshop, code).value(), "with boat Heron"));
        }
        seat.perform("undo");
        CHECK(mentions(app::where_is(seat.workshop, "A2").value(), "in the bin"));
    }

    TEST_CASE("all of them or none: one that is out already is named, and nothing is done") {
        Seat seat;
        REQUIRE(app::add_boat(seat.workshop, "Heron", {}, {}).has_value());
        REQUIRE(app::hand_over(seat.workshop, {Whereabouts::lost, "", "", "", {"A2"}}).has_value());
        seat.shared->refresh();
        seat.settle();
        REQUIRE(seat.codes().size() == 6);
        seat.desk->tick_all_shown();
        seat.perform("hand out");
        seat.desk->outbox().post(HandOut{"Heron"});
        seat.settle();
        CHECK(mentions(seat.desk->view().hand_error, "A2"));
        CHECK(seat.desk->form().is_handing);
        CHECK(seat.desk->form().ticked.size() == 6);
        CHECK(mentions(app::where_is(seat.workshop, "A1").value(), "in the bin"));
    }

    TEST_CASE("into a rig's wallet by its code; what begins two names or none is asked again") {
        Seat seat;
        for (const char* code : {"R1", "R2"}) {
            app::RigWords words;
            words.code = code;
            words.name = "blue";
            REQUIRE(app::add_rig(seat.workshop, words).has_value());
        }
        seat.shared->refresh();
        seat.settle();
        seat.go_to("A3");
        seat.perform("hand out");
        CHECK(mentions(seat.desk->view().hand_title, "A3 goes to which boat"));
        for (const char* typed : {"", "r", "Albatross"}) {
            CAPTURE(typed);
            seat.desk->outbox().post(HandOut{typed});
            seat.settle();
            CHECK_FALSE(seat.desk->view().hand_error.empty());
        }
        seat.desk->outbox().post(HandOut{"r1"});
        seat.settle();
        CHECK(seat.desk->view().message == "In the wallet of rig R1: A3");
        CHECK(mentions(app::where_is(seat.workshop, "A3").value(), "in the wallet of rig R1"));
        seat.perform("hand out");
        seat.perform("show all");
        CHECK_FALSE(seat.desk->form().is_handing);
    }
}

TEST_SUITE("The bin in grams and metres") {
    // 22.2 gr over 24 in are 11.1 gr/ft, or 2.36 g/m.
    TEST_CASE("columns and search follow, and a range that was typed keeps its meaning") {
        Seat seat;
        seat.desk->form().looked_for = "10..12";
        seat.settle();
        CHECK(seat.codes() == Codes{"A1", "A2", "A3"});
        seat.shared->show_in(grams_and_metres);
        seat.settle();
        CHECK(seat.desk->form().looked_for == "10..12 gr/ft");
        CHECK(seat.codes() == Codes{"A1", "A2", "A3"});
        const View& view = seat.desk->view();
        CHECK(view.range_note == "from 2.126 to 2.551 g/m");
        CHECK(view.heads[3] == "g/m");
        CHECK(view.heads[6] == "Sinks, cm/s");
        CHECK(view.row(0).weight.starts_with("2.359"));
        seat.desk->form().looked_for = "2.3..2.4";
        seat.settle();
        CHECK(seat.codes() == Codes{"A1", "A2", "A3"});
    }

    TEST_CASE("every column of figures, every count and the pace say what they are") {
        Seat seat;
        const View& view = seat.desk->view();
        for (const auto column : {SortBy::what, SortBy::weight, SortBy::diameter, SortBy::density,
                                  SortBy::rate, SortBy::group}) {
            CHECK_FALSE(view.head_help[static_cast<std::size_t>(column)].empty());
        }
        for (const StateCount& count : view.states) CHECK_FALSE(count.help.empty());
        CHECK_FALSE(view.pace_help.empty());
    }
}
