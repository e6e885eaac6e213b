#include "bench/pages/coil/coil_form.h"

#include <doctest/doctest.h>

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::coil_page;

TEST_SUITE("What is typed on the page of one coil") {
    TEST_CASE("a few letters mean a condition where they mean just one") {
        CHECK(condition_typed("h") == Wear::hinge);
        CHECK(condition_typed(" Crack ") == Wear::cracked_coating);
        CHECK_FALSE(condition_typed("worn").has_value());
        CHECK(condition_typed("worn l") == Wear::worn_loop);
        CHECK(condition_typed("worn through") == Wear::worn_through);
        CHECK_FALSE(condition_typed("").has_value());
        CHECK_FALSE(condition_typed("zebra").has_value());
    }

    TEST_CASE("Enter goes from the condition to what more there is, and then notes it") {
        Form form;
        Outbox<Command> outbox;
        form.condition = "hin";
        enter_condition(form, outbox);
        CHECK(form.condition == "hinge");
        CHECK(form.spot == Spot::condition_note);
        CHECK(outbox.take().empty());
        form.condition_note = " at the loop ";
        enter_condition_note(form, outbox);
        CHECK(outbox.take() == std::vector<Command>{NoteCondition{Wear::hinge, "at the loop"}});
    }

    TEST_CASE("a code that is scanned into the field of conditions goes to its coil") {
        Form form;
        Outbox<Command> outbox;
        form.condition = "K7M3XM";
        enter_condition(form, outbox);
        CHECK(outbox.take() == std::vector<Command>{EnterCode{"K7M3XM"}});
    }

    TEST_CASE("Enter in an empty field asks for nothing") {
        Form form;
        Outbox<Command> outbox;
        enter_code(form, outbox);
        enter_condition(form, outbox);
        enter_condition_note(form, outbox);
        enter_photograph(form, outbox);
        CHECK(outbox.take().empty());
    }
}
