#include "bench/pages/bench/bench_form.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "bench/pages/bench/a_view.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bench_page;

namespace {

template <class Posted>
bool posts_only(Outbox<Command>& outbox, const Posted& expected) {
    const auto commands = outbox.take();
    return commands.size() == 1 && commands.front() == Command{expected};
}

struct Bench {
    View view = a_view();
    Form form;
    Outbox<Command> outbox;

    void type(ReadingField field, const char* text) {
        form.typed.text(field) = text;
        enter_reading(view, form, field, outbox);
    }
};

}  // namespace

TEST_SUITE("Typing at the bench") {
    TEST_CASE("Enter saves a reading and goes on to the next field") {
        Bench bench;
        bench.type(ReadingField::submerged_weight, "15.2");
        CHECK(posts_only(bench.outbox, saving(ReadingField::submerged_weight, "15.2")));
        CHECK(bench.form.spot == ReadingField::sink_distance);
        CHECK(bench.form.frames_to_focus > 0);
    }

    TEST_CASE("Enter on what is saved already only goes on") {
        Bench bench;
        bench.type(ReadingField::sample_length, "24");
        CHECK(bench.outbox.commands.empty());
        CHECK(bench.form.spot == ReadingField::sample_weight);
    }

    TEST_CASE("what cannot be understood stays, with its problem and the keyboard") {
        Bench bench;
        bench.type(ReadingField::submerged_weight, "15,2");
        CHECK(bench.outbox.commands.empty());
        CHECK(bench.form.spot == ReadingField::submerged_weight);
        CHECK(bench.form.typed.text(ReadingField::submerged_weight) == "15,2");
        REQUIRE(bench.form.typed.problem(ReadingField::submerged_weight));
        CHECK_FALSE(bench.form.typed.problem(ReadingField::submerged_weight)->suggestion.empty());

        bench.type(ReadingField::submerged_weight, "15.2");
        CHECK_FALSE(bench.form.typed.problem(ReadingField::submerged_weight));
        CHECK(posts_only(bench.outbox, saving(ReadingField::submerged_weight, "15.2", "15,2")));
    }

    TEST_CASE("a number in place of a refused one says what it stands in place of") {
        Bench bench;
        bench.type(ReadingField::submerged_weight, "15,2");
        bench.type(ReadingField::submerged_weight, "15.2");
        CHECK(posts_only(bench.outbox, saving(ReadingField::submerged_weight, "15.2", "15,2")));
        bench.type(ReadingField::submerged_weight, "15.3");  // told once
        CHECK(posts_only(bench.outbox, saving(ReadingField::submerged_weight, "15.3")));
    }

    TEST_CASE("taking back undoes what is typed first, and what is saved second") {
        Bench bench;
        bench.form.spot = ReadingField::sample_weight;
        bench.form.typed.text(ReadingField::sample_weight) = "99";
        take_back(bench.view, bench.form, bench.outbox);
        CHECK(bench.outbox.commands.empty());
        CHECK(bench.form.typed.text(ReadingField::sample_weight) == "22.4");
        CHECK(bench.form.rewritten == ReadingField::sample_weight);
        take_back(bench.view, bench.form, bench.outbox);
        CHECK(posts_only(bench.outbox, TakeBackReading{ReadingField::sample_weight}));
    }

    TEST_CASE("taking back a refused text clears it with its problem") {
        Bench bench;
        bench.type(ReadingField::submerged_weight, "15,2");
        take_back(bench.view, bench.form, bench.outbox);
        CHECK(bench.form.typed.text(ReadingField::submerged_weight).empty());
        CHECK_FALSE(bench.form.typed.problem(ReadingField::submerged_weight));
        take_back(bench.view, bench.form, bench.outbox);  // nothing is left
        CHECK(bench.outbox.commands.empty());
        bench.form.spot = Spot{};
        take_back(bench.view, bench.form, bench.outbox);  // no reading's field
        CHECK(bench.outbox.commands.empty());
    }

    TEST_CASE("a number with a unit of the wrong kind is refused at the field") {
        Bench bench;
        bench.type(ReadingField::sink_time, "4 gr");
        CHECK(bench.outbox.commands.empty());
        CHECK(bench.form.typed.problem(ReadingField::sink_time).has_value());
    }

    TEST_CASE("an emptied field takes its reading back") {
        Bench bench;
        bench.type(ReadingField::sample_weight, " ");
        CHECK(posts_only(bench.outbox, saving(ReadingField::sample_weight, "")));
    }

    TEST_CASE("diameters are added one after another until Enter comes alone") {
        Bench bench;
        bench.type(ReadingField::diameters, "0.942");
        CHECK(posts_only(bench.outbox, saving(ReadingField::diameters, "0.942")));
        CHECK(bench.form.spot == ReadingField::diameters);
        bench.type(ReadingField::diameters, "");
        CHECK(bench.outbox.commands.empty());
        CHECK(bench.form.spot == ReadingField::submerged_weight);
    }

    TEST_CASE("the fields form a ring that begins and ends at the code") {
        Spot spot;
        for (const ReadingField field : bench_order) {
            spot = spot_after(spot);
            CHECK(spot == field);
        }
        CHECK(spot_after(spot).is_notes());
        CHECK(spot_after(Spot::notes()).is_code());
        for (const ReadingField field : bench_order) {
            CHECK(spot_before(spot_after(field)) == field);
        }
        CHECK(spot_before(Spot{}).is_notes());
        CHECK(spot_before(Spot::notes()) == bench_order.back());
    }

    TEST_CASE("every field of a reading has its place at the bench") {
        for (const ReadingField field : all_reading_fields) {
            CHECK(std::ranges::count(bench_order, field) == 1);
        }
    }

    TEST_CASE("a code is looked up after the frame, not in a view that is older than it") {
        Bench bench;
        bench.form.code = " A7 ";
        enter_code(bench.view, bench.form, bench.outbox);
        CHECK(posts_only(bench.outbox, EnterCode{"A7"}));
    }

    TEST_CASE("an empty code goes to the first reading of the coil in hand") {
        Bench bench;
        enter_code(bench.view, bench.form, bench.outbox);
        CHECK(bench.outbox.commands.empty());
        CHECK(bench.form.spot == ReadingField::sample_length);
    }

    TEST_CASE("notes are saved when they are new, and the keyboard goes back to the codes") {
        Bench bench;
        bench.form.spot = Spot::notes();
        bench.form.typed.notes = "from the drift boat ";
        enter_notes(bench.view, bench.form, bench.outbox);
        CHECK(posts_only(bench.outbox, SaveNotes{"from the drift boat"}));
        CHECK(bench.form.spot.is_code());
        bench.view.notes.stored = "from the drift boat";
        enter_notes(bench.view, bench.form, bench.outbox);
        CHECK(bench.outbox.commands.empty());
    }

    TEST_CASE("the next instrument of a kind comes after the last one again") {
        Bench bench;
        use_next(bench.view, bench.form, Tool::scale);  // there is but one
        CHECK(bench.form.tools == ToolsInUse{});
        bench.view.tools = {{Tool::scale, {"", "S2", "S3"}, "Scale default", "F6"}};
        for (const char* code : {"S2", "S3", "", "S2"}) {
            use_next(bench.view, bench.form, Tool::scale);
            CHECK(bench.form.tools.scale == code);
        }
        CHECK(bench.form.tools.for_field(ReadingField::submerged_weight) == "S2");
        CHECK(bench.form.tools.for_field(ReadingField::sample_length).empty());
        CHECK(bench.form.tools.for_field(ReadingField::tint).empty());
    }

    TEST_CASE("the beginning of a word is saved as the word") {
        Bench bench;
        bench.type(ReadingField::tint, "d");
        CHECK(posts_only(bench.outbox, saving(ReadingField::tint, "dark")));
        CHECK(bench.form.typed.text(ReadingField::tint) == "dark");
        bench.type(ReadingField::tint, "b");                                    // brown or black?
        CHECK(posts_only(bench.outbox, LookForScan{ReadingField::tint, "b"}));  // nothing is saved
        CHECK(bench.form.typed.problem(ReadingField::tint).has_value());
    }

    TEST_CASE("confirming needs something to confirm") {
        Bench bench;
        confirm(bench.view, bench.outbox);
        CHECK(posts_only(bench.outbox, Confirm{"T-11"}));
        bench.view.verdict.confirms.reset();
        confirm(bench.view, bench.outbox);
        CHECK(bench.outbox.commands.empty());
    }
}
