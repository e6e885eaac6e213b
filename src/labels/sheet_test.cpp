#include "labels/sheet.h"

#include <doctest/doctest.h>

#include <set>

#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::labels;

TEST_SUITE("Sheets of labels") {
    TEST_CASE("every named sheet fits on its paper and is found by its name") {
        for (const auto& known : named_sheets()) {
            CAPTURE(known.name);
            const auto& sheet = known.sheet;
            CHECK(sheet_from(known.name) == sheet);
            const auto last = cell(sheet, labels_per_page(sheet) - 1);
            CHECK(last.page == 0);
            CHECK(last.corner.x + sheet.label.width <= sheet.paper.width + 0.05 * millimetre);
            CHECK(last.corner.y + sheet.label.height <= page_height(sheet) + 0.05 * millimetre);
        }
    }

    // By hand: 3 x 2 5/8 in + 2 x 1/8 in = 8 1/8 in, and 2 x 3/16 in beside make 8 1/2 in.
    TEST_CASE("thirty to a Letter page: the margins are alike on both sides") {
        const auto sheet = sheet_from("letter-30").value();
        const auto last = cell(sheet, 29).corner;
        CHECK(near(8.5 * inch - last.x - sheet.label.width, sheet.first.x, 1e-6 * millimetre));
        CHECK(near(11.0 * inch - last.y - sheet.label.height, sheet.first.y, 1e-6 * millimetre));
    }

    TEST_CASE("cells go along the rows, then down, then to the next page") {
        const auto sheet = sheet_from("a4-24").value();
        CHECK(cell(sheet, 0).corner == Place{{}, 0.5 * millimetre});
        CHECK(near(cell(sheet, 1).corner.x, 70.0 * millimetre, 1e-9 * millimetre));
        CHECK(near(cell(sheet, 3).corner.y, 37.5 * millimetre, 1e-9 * millimetre));
        CHECK(cell(sheet, 23).page == 0);
        CHECK(cell(sheet, 24).page == 1);
        CHECK(cell(sheet, 24).corner == cell(sheet, 0).corner);
    }

    TEST_CASE("any grid can be said in words") {
        const auto sheet =
            sheet_from("A4, 2 x 5, label 99.1 mm x 57 mm, margin 4.65 mm x 6 mm, gap 2.5 mm x 0 mm")
                .value();
        CHECK(sheet.columns == 2);
        CHECK(sheet.rows == 5);
        CHECK(near(sheet.label.width, 99.1 * millimetre, 1e-9 * millimetre));
        CHECK(near(cell(sheet, 1).corner.x, 106.25 * millimetre, 1e-9 * millimetre));
        // Without sizes the labels share the paper; without a margin they are in the middle.
        const auto shared = sheet_from("letter, 2 x 4").value();
        CHECK(near(shared.label.width, 4.25 * inch, 1e-9 * millimetre));
        CHECK(near(shared.label.height, 2.75 * inch, 1e-9 * millimetre));
        const auto middle = sheet_from("100 mm x 60 mm, 1 x 1, label 80 mm x 40 mm").value();
        CHECK(near(middle.first.x, 10.0 * millimetre, 1e-9 * millimetre));
        CHECK(near(middle.first.y, 10.0 * millimetre, 1e-9 * millimetre));
    }

    TEST_CASE("on a roll each label is a page as long as itself and its gap") {
        const auto roll = sheet_from("roll 62 mm, label 60 mm x 29 mm, gap 0 mm x 3 mm").value();
        CHECK(labels_per_page(roll) == 1);
        CHECK(near(page_height(roll), 32.0 * millimetre, 1e-9 * millimetre));
        CHECK(near(roll.first.x, 1.0 * millimetre, 1e-9 * millimetre));
        CHECK(cell(roll, 7).page == 7);
    }

    TEST_CASE("a sheet that cannot be is refused in words") {
        says(sheet_from("").error().sentence, "no sheet");
        says(sheet_from("foolscap").error().suggestion, "letter, a4");
        says(sheet_from("a4, 3 x 8, label 80 mm x 30 mm").error().sentence, "225.0 mm");
        says(sheet_from("a4, 3 x 9, label 60 mm x 37 mm").error().sentence, "reach down");
        says(sheet_from("a4, 3 x 8.5").error().suggestion, "3 x 8");
        says(sheet_from("a4, 40 x 40").error().sentence, "too small");
        says(sheet_from("a4, 3 x 8, frame 3 mm").error().sentence, "'frame 3 mm'");
        CHECK_FALSE(sheet_from("a4, 3 x 8, gap 1 x 1").has_value());
        CHECK_FALSE(sheet_from("a4, 3 x 8, gap -1 mm x 0 mm").has_value());
        CHECK_FALSE(sheet_from("roll 62 mm").has_value());
        CHECK_FALSE(sheet_from("roll 62 mm, 2 x 2, label 20 mm x 20 mm").has_value());
        CHECK_FALSE(sheet_from("roll 20 mm, label 62 mm x 20 mm").has_value());
        CHECK_FALSE(sheet_from("a4, 3 x 8, margin 30 mm x 5 mm, label 70 mm x 30 mm").has_value());
    }
}
