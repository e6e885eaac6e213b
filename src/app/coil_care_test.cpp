#include "app/coil_care.h"

#include <doctest/doctest.h>

#include <sstream>

#include "app/coil_changes.h"
#include "app/undo.h"
#include "support/a_photograph.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

struct Bench {
    TemporaryFolder folder;
    Workshop workshop = workshop_in_memory();
    Coil coil = add_coil(workshop, "A7").value();

    [[nodiscard]] std::filesystem::path file(const std::string& name, const std::string& bytes) {
        write_bytes(folder / name, bytes);
        return folder / name;
    }
};

}  // namespace

TEST_SUITE("Care of a coil") {
    TEST_CASE("a condition is noted with who and when, and is good again later") {
        Bench bench;
        REQUIRE(note_condition(bench.workshop, bench.coil, Wear::worn_loop, true, " thick end ")
                    .has_value());
        const auto now = conditions_now(bench.workshop, bench.coil);
        REQUIRE(now.size() == 1);
        CHECK(now[0].by == "test");
        CHECK(now[0].note == "thick end");
        CHECK(next_undo(bench.workshop)->note.what == "note of coil A7: worn loop");
        REQUIRE(note_condition(bench.workshop, bench.coil, Wear::worn_loop, false).has_value());
        CHECK(conditions_now(bench.workshop, bench.coil).empty());
        std::ostringstream out;
        write_conditions(bench.workshop, bench.coil, out, Format::csv);
        CHECK(out.str() == "at,condition,state,by,note\n" +
                               to_text(all_conditions(bench.workshop, bench.coil)[1].at) +
                               ",worn loop,good again,test,\n" + to_text(now[0].at) +
                               ",worn loop,found,test,thick end\n");
        REQUIRE(undo(bench.workshop).has_value());
        CHECK(conditions_now(bench.workshop, bench.coil) == now);
    }

    TEST_CASE("a photograph out of a file is shown, saved again and put away") {
        Bench bench;
        const auto bytes = a_jpeg(640, 480, 6);
        const auto taken =
            add_photograph(bench.workshop, bench.coil, bench.file("loop.jpg", bytes), "the loop");
        REQUIRE(taken.has_value());
        CHECK(taken->width == 480);
        CHECK(taken->height == 640);
        CHECK(taken->size == static_cast<std::int64_t>(bytes.size()));
        const auto picture = picture_of(bench.workshop, *taken, 100);
        REQUIRE(picture.has_value());
        CHECK(picture->height == 100);
        REQUIRE(save_photograph(bench.workshop, *taken, bench.folder / "again.jpg").has_value());
        CHECK(bytes_of(bench.folder / "again.jpg") == bytes);
        CHECK_FALSE(
            save_photograph(bench.workshop, *taken, bench.folder / "again.jpg").has_value());
        REQUIRE(put_photograph_away(bench.workshop, bench.coil, taken->id).has_value());
        CHECK(photographs_of(bench.workshop, bench.coil).empty());
        REQUIRE(undo(bench.workshop).has_value());
        CHECK(photographs_of(bench.workshop, bench.coil).size() == 1);
        REQUIRE(undo(bench.workshop).has_value());
        CHECK(photographs_of(bench.workshop, bench.coil).empty());
    }

    TEST_CASE("of several photographs the last one is meant, or the one whose id begins so") {
        Bench bench;
        CHECK_FALSE(photograph_called(bench.workshop, bench.coil, "").has_value());
        const auto first =
            add_photograph(bench.workshop, bench.coil, bench.file("a.png", a_png(8, 8))).value();
        const auto second =
            add_photograph(bench.workshop, bench.coil, bench.file("b.png", a_png(9, 8))).value();
        CHECK(photograph_called(bench.workshop, bench.coil, "") == second);
        CHECK(photograph_called(bench.workshop, bench.coil, first.id.text()) == first);
        CHECK_FALSE(photograph_called(bench.workshop, bench.coil, "0").has_value());
        CHECK_FALSE(photograph_called(bench.workshop, bench.coil, "Z").has_value());
    }

    TEST_CASE("what is no photograph is refused, and nothing has happened") {
        Bench bench;
        const auto why = [&](const std::filesystem::path& file) {
            const auto taken = add_photograph(bench.workshop, bench.coil, file);
            REQUIRE_FALSE(taken.has_value());
            return taken.error().sentence;
        };
        CHECK(mentions(why(bench.folder / "none.jpg"), "is not a file"));
        CHECK(mentions(why(bench.folder.path()), "is not a file"));
        CHECK(mentions(why(bench.file("a.csv", "code\nA7\n")), "no photograph"));
        CHECK(mentions(why(bench.file("b.png", a_png(40, 40).substr(0, 60))), "damaged"));
        const auto huge = std::string(9 * 1024 * 1024, ' ');
        CHECK(mentions(why(bench.file("c.png", a_png(4, 4) + huge)), "more than 8 MiB"));
        const auto twice = bench.file("d.png", a_png(4, 4));
        REQUIRE(add_photograph(bench.workshop, bench.coil, twice).has_value());
        CHECK(mentions(why(twice), "has this photograph already"));
        CHECK(photographs_of(bench.workshop, bench.coil).size() == 1);
    }
}
