#include "bench/pages/library/library_desk.h"

#include <doctest/doctest.h>

#include "app/coil_changes.h"
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
}
