#include "bench/pages/library/library_desk.h"

#include <doctest/doctest.h>

#include "app/coil_changes.h"
#include "bench/pages/library/library_task.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::library_page;

namespace {

// A catalogue with three right T-11 and one T-8 that was confirmed as T-11 by mistake.
struct Seat {
    app::Workshop workshop = app::workshop_in_memory();
    SharedBin shared{workshop};
    Desk desk{shared};

    Seat() {
        for (const char* code : {"A1", "A2", "A3"}) confirm(code, "22.3 gr", "0.84 0.85 mm");
        confirm("B7", "16.1 gr", "0.71 0.72 mm");
        desk.form().chosen_class = "T-11";
        desk.look_round(std::chrono::seconds(10));
    }
    void confirm(const char* code, const char* weight, const char* diameters) {
        const auto coil = app::add_coil(workshop, code).value();
        for (const auto& [field, text] : {std::pair{ReadingField::sample_length, "24 in"},
                                          std::pair{ReadingField::sample_weight, weight},
                                          std::pair{ReadingField::diameters, diameters}}) {
            REQUIRE(app::record_reading(workshop, coil, field, text).has_value());
        }
        REQUIRE(app::confirm_coil(workshop, coil, "T-11").has_value());
        shared.refresh();
    }
    template <class Posted>
    const View& post(Posted command) {
        desk.outbox().post(command);
        desk.act();
        return desk.view();
    }
};

}  // namespace

TEST_SUITE("Work on the page Library") {
    TEST_CASE("a doubtful confirmation is taken back, and Ctrl Z gives it again") {
        Seat seat;
        REQUIRE(seat.desk.view().doubtful.has_value());
        const View& after = seat.post(TakeBack{*seat.desk.view().doubtful});
        says(after.message, "Taken back: what B7 was confirmed as");
        CHECK_FALSE(after.doubtful.has_value());
        CHECK(after.about->doubts.empty());
        says(after.list.summary, "3 confirmed coils");

        const View& undone = seat.post(Undo{});
        says(undone.message, "Undone: ");
        CHECK(undone.doubtful.has_value());
        CHECK_FALSE(seat.post(Redo{}).doubtful.has_value());
    }

    TEST_CASE("what is done on another page is seen here") {
        Seat seat;
        REQUIRE(seat.desk.view().about->has_learned);
        const auto coil = app::coil_by_code(seat.workshop, "B7").value();
        REQUIRE(app::take_confirmation_back(seat.workshop, coil).has_value());
        seat.shared.refresh();
        CHECK(seat.desk.look_round(std::chrono::seconds(10)));
        CHECK_FALSE(seat.desk.view().doubtful.has_value());
    }

    TEST_CASE("the score is worked out a little at a time, and told when it is done") {
        Seat seat;
        CHECK_FALSE(seat.desk.is_busy());
        seat.confirm("C1", "22.3 gr", "0.84 0.85 mm");
        CHECK(seat.desk.look_round(std::chrono::milliseconds(0)));
        CHECK(seat.desk.is_busy());
        int turns = 0;
        while (seat.desk.is_busy() && turns < 100) {
            seat.desk.look_round(std::chrono::milliseconds(0));
            ++turns;
        }
        CHECK(turns > 1);
        CHECK(seat.desk.view().score.aside == "5 coils");
    }

    TEST_CASE("arrows move through what the filter lets through, and stop at its ends") {
        Seat seat;
        CHECK(seat.post(StepClass{1}).about->title == "T-12");
        CHECK(seat.post(StepClass{-2}).about->title == "T-10");
        CHECK(seat.post(StepClass{-1000}).about->title == "T-5");
        seat.desk.form().filter = "leader";
        CHECK(seat.desk.view().about->title == "leader 1 in/s");  // T-5 is no leader
        CHECK(seat.post(StepClass{1000}).about->title == "leader 8 in/s");
        seat.desk.form().filter = "b7";
        CHECK(seat.desk.view().about->title == "T-11");
        seat.desk.form().filter = "zzz";
        CHECK(seat.desk.view().about->title == "T-11");  // what was chosen stays
    }

    TEST_CASE("the next class that something looks wrong of is found from anywhere") {
        Seat seat;
        seat.post(ChooseClass{"leader 1 in/s"});
        seat.desk.form().filter = "leader";
        CHECK(seat.post(NextDoubt{}).about->title == "T-11");
        CHECK(seat.desk.form().filter.empty());
        seat.post(TakeBack{*seat.desk.view().doubtful});
        says(seat.post(NextDoubt{}).message, "No confirmed coil looks wrong");
    }

    TEST_CASE("the map is saved beside the catalogue, and the message says where") {
        const TemporaryFolder folder;
        auto workshop =
            app::Workshop::create(folder / "demo.coilbook", app::foretold_surroundings());
        SharedBin shared(workshop);
        Desk desk(shared);
        desk.outbox().post(SavePicture{});
        desk.act();
        says(desk.view().message, (folder / "demo-library").string());
        for (const char* ending : {".svg", ".pdf", ".png"}) {
            CHECK(std::filesystem::exists(folder / ("demo-library" + std::string(ending))));
        }
        CHECK(desk.view().failure.empty());
    }

    TEST_CASE("where the map shows a part, it follows the chosen class") {
        Seat seat;
        REQUIRE(seat.desk.view().close_up.has_value());
        seat.desk.form().window = *seat.desk.view().close_up;
        seat.post(ChooseClass{"leader 5 in/s"});
        const auto close = seat.desk.view().close_up.value();
        const double y = seat.desk.form().window->y.share(close.y.value(0.5));
        CHECK(y > 0.0);
        CHECK(y < 1.0);
    }

    TEST_CASE("a figure that is typed changes the class, and Ctrl Z gives it back") {
        Seat seat;
        seat.desk.form().chosen_class = "T-14";
        const View& task = seat.post(BeginTask{Task::change});
        REQUIRE(task.task.has_value());
        CHECK(task.task->title == "Change T-14");
        CHECK(seat.desk.has_unsaved());
        seat.desk.form().typed[7] = "heavy";
        const View& refused = seat.post(FinishTask{});
        REQUIRE(refused.task.has_value());
        says(refused.task->trouble, "Density: 'heavy' is not accepted");
        CHECK(refused.task->fields[7].is_wrong);
        CHECK(seat.desk.form().field == 7);
        seat.desk.form().typed[7] = "4.4";
        const View& changed = seat.post(FinishTask{});
        CHECK_FALSE(changed.task.has_value());
        says(changed.about->figures[1].built_in, "4.40");
        says(changed.message, "Changed: T-14");
        says(seat.post(Undo{}).about->figures[1].built_in, "4.20");
    }

    TEST_CASE("another name is the one that is looked at from then on") {
        Seat seat;
        seat.post(BeginTask{Task::change});
        seat.desk.form().typed[0] = "eleven";
        const View& renamed = seat.post(FinishTask{});
        CHECK(renamed.about->title == "eleven");
        says(renamed.list.summary, "4 confirmed coils");
        CHECK(app::coil_by_code(seat.workshop, "A1").has_value());
    }

    TEST_CASE("a class is added, and what is left alone is not") {
        Seat seat;
        seat.post(BeginTask{Task::add});
        auto& typed = seat.desk.form().typed;
        typed[0] = "green box line";
        typed[5] = "12.5";
        typed[7] = "3.9";
        CHECK(seat.post(FinishTask{}).about->title == "green box line");
        seat.post(BeginTask{Task::add});
        CHECK_FALSE(seat.post(LeaveTask{}).task.has_value());
        CHECK_FALSE(seat.desk.has_unsaved());
    }

    TEST_CASE("a split is shown on the map before it is done") {
        Seat seat;
        const View& planned = seat.post(BeginTask{Task::split});
        REQUIRE(planned.task.has_value());
        // The coil that is a T-8 in truth lies apart from the others.
        says(planned.task->words[0], "T-11 light: 1 coil (B7).");
        says(planned.task->words[1], "T-11 heavy: 3 coils (A1, A2 and A3).");
        CHECK(planned.task->is_possible);
        CHECK(planned.map.bands.size() == 1);
        CHECK(planned.map.ellipses[0].name == "T-11 light");
        CHECK(planned.map.ellipses[1].name == "T-11 heavy");
        seat.desk.form().typed[1] = "99";
        CHECK_FALSE(seat.desk.view().task->is_possible);
        CHECK_FALSE(seat.desk.view().task->trouble.empty());
        CHECK(seat.desk.view().map.bands.empty());
        seat.desk.form().typed[1] = "9.5";
        CHECK(seat.desk.view().task->is_possible);
        const View& done = seat.post(FinishTask{});
        CHECK_FALSE(done.task.has_value());
        CHECK(done.about->title == "T-11 light");
        CHECK(seat.post(Undo{}).list.summary == "102 classes, 4 confirmed coils");
    }

    TEST_CASE("two classes are joined; the other one is clicked") {
        Seat seat;
        seat.post(BeginTask{Task::join});
        CHECK_FALSE(seat.desk.view().task->is_possible);
        const View& planned = seat.post(ChooseClass{"T-10"});
        CHECK(seat.desk.form().chosen_class == "T-11");
        REQUIRE(planned.task.has_value());
        CHECK(planned.task->is_possible);
        says(planned.task->words[0], "T-10 becomes a part of T-11");
        CHECK(planned.map.ellipses[0].name == "T-11");
        const View& done = seat.post(FinishTask{});
        says(done.message, "Joined: T-10 with T-11");
        CHECK(done.list.summary == "101 classes, 4 confirmed coils");
        CHECK(seat.post(Undo{}).list.summary == "102 classes, 4 confirmed coils");
    }

    TEST_CASE("what no class is can be neither changed, split nor joined") {
        Seat seat;
        seat.desk.form().chosen_class = "unlisted";
        for (const Task task : {Task::change, Task::split, Task::join}) {
            const View& view = seat.post(BeginTask{task});
            CHECK_FALSE(view.task.has_value());
            CHECK_FALSE(view.message.empty());
        }
    }
}

TEST_SUITE("The library in grams and metres") {
    // 11 gr/ft are 2.33854 g/m.
    TEST_CASE("list, map, figures and fields follow; what is typed keeps its meaning") {
        Seat seat;
        seat.post(BeginTask{Task::change});
        CHECK(seat.desk.form().typed.at(class_weight) == "11");
        seat.desk.form().typed.at(class_weight) = "11.5";
        seat.desk.form().window = seat.desk.view().close_up;
        const PlotWindow before = *seat.desk.form().window;
        const double curves = static_cast<double>(seat.desk.view().map.curves.size());
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        const View& view = seat.desk.view();
        CHECK(seat.desk.form().typed.at(class_weight) == "11.5 gr/ft");
        REQUIRE(view.task.has_value());
        CHECK(view.task->fields[class_weight].label == "Weight per metre");
        CHECK(view.task->fields[class_weight].unit == "g/m");
        CHECK(view.list.units[0] == "g/m");
        CHECK(view.list.units[2] == "cm/s");
        CHECK(view.map.y_label == "Weight per metre, g/m");
        CHECK(static_cast<double>(view.map.curves.size()) == curves);
        CHECK(seat.desk.form().window->x == before.x);
        CHECK(seat.desk.form().window->y.low ==
              doctest::Approx(before.y.low * 0.0647989 / 0.3048).epsilon(1e-5));
        const View& done = seat.post(FinishTask{});
        says(done.message, "Changed: T-11");
        seat.post(BeginTask{Task::change});
        CHECK(seat.desk.form().typed.at(class_weight) == "2.445");
        seat.desk.form().typed.at(class_weight) = "2.33854";
        seat.post(FinishTask{});
        seat.shared.show_in(grains_and_feet);
        seat.desk.look_round({});
        seat.post(BeginTask{Task::change});
        CHECK(std::stod(seat.desk.form().typed.at(class_weight)) ==
              doctest::Approx(11.0).epsilon(1e-5));
    }

    TEST_CASE("nothing about a class is said in grains, feet or inches") {
        Seat seat;
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        const View& view = seat.desk.view();
        std::string all;
        for (const auto& row : view.list.rows) all += row.whole + "\n";
        for (const auto& row : view.about->figures) {
            all += row.name + row.built_in + row.now + row.change + "\n";
        }
        for (const auto& words : view.about->learning) all += words + "\n";
        for (const auto& each : view.map.ellipses) all += each.readout + "\n";
        for (const auto& each : view.map.points) all += each.readout + "\n";
        for (const auto& each : view.map.curves) all += each.name + each.readout + "\n";
        CHECK(mentions(all, "g/m"));
        CHECK(mentions(all, "cm/s"));
        for (const char* other : {"gr/ft", " in/s\nin still", "per foot"}) {
            CHECK_MESSAGE(!mentions(all, other), std::string(other));
        }
    }

    TEST_CASE("every column, figure and score says what it is") {
        Seat seat;
        const View& view = seat.desk.view();
        for (const auto& help : view.list.help) CHECK_FALSE(help.empty());
        REQUIRE(view.about->figures.size() == 4);
        for (const auto& row : view.about->figures) CHECK_MESSAGE(!row.help.empty(), row.name);
        for (const auto& row : view.score.rows) CHECK_MESSAGE(!row.help.empty(), row.question);
    }

    TEST_CASE("a class is cut at the same place, typed in either") {
        Seat seat;
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        seat.post(BeginTask{Task::split});
        REQUIRE(seat.desk.form().task == Task::split);
        seat.desk.form().typed.at(split_by) = "weight";
        seat.desk.form().typed.at(split_at) = "2.0";
        const auto& in_metres = seat.desk.view();
        CHECK(in_metres.task->fields[split_at].unit == "g/m");
        REQUIRE(in_metres.task->is_possible);
        const auto words = in_metres.task->words;
        seat.desk.form().typed.at(split_at) = "9.40756 gr/ft";
        CHECK(seat.desk.view().task->words == words);
        CHECK(seat.desk.view().map.bands.back().name == "cut at 2.000 g/m");
    }
}
