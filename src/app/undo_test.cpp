#include "app/undo.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "app/bin.h"
#include "app/coil_changes.h"
#include "app/history_rows.h"
#include "app/take_in.h"
#include "exchange/json.h"
#include "store/coil_repository.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

std::string label_of(Workshop& workshop, const std::string& code) {
    Bin bin;
    bin.refresh(workshop);
    const auto at = bin.find_code(code);
    return at ? bin.label(*at).text() : "no such coil";
}

}  // namespace

TEST_SUITE("Taking back") {
    TEST_CASE("a wrong word on a coil is taken back, and given again") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        REQUIRE(confirm_coil(workshop, coil, "T-11").has_value());
        CHECK(next_undo(workshop)->note.what == "confirm coil A7 as T-11");
        const auto undone = undo(workshop, {}, "wrong coil in hand");
        REQUIRE(undone.has_value());
        CHECK(undone->note.what == "confirm coil A7 as T-11");
        CHECK(label_of(workshop, "A7") == "");
        CHECK(next_redo(workshop)->note.what == "confirm coil A7 as T-11");
        const auto entry = history(workshop).front();
        CHECK(entry.note.what == "undo: confirm coil A7 as T-11");
        CHECK(entry.note.why == "wrong coil in hand");
        REQUIRE(redo(workshop).has_value());
        CHECK(label_of(workshop, "A7") == "T-11");
        CHECK_FALSE(next_redo(workshop).has_value());
    }

    TEST_CASE("a whole file that was taken in is undone at once") {
        auto workshop = workshop_in_memory();
        const auto taken = take_in_demo(workshop);
        REQUIRE(undo(workshop).has_value());
        CHECK(workshop.catalogue().coils().count() == 0);
        REQUIRE(redo(workshop).has_value());
        CHECK(workshop.catalogue().coils().count() == taken.coils);
    }

    TEST_CASE("after a restart it goes on where it was") {
        const TemporaryFolder folder;
        const auto surroundings = foretold_surroundings();
        {
            auto workshop = Workshop::create(folder / "a.coilbook", surroundings);
            (void)add_coil(workshop, "A7").value();
            (void)add_coil(workshop, "A8").value();
            REQUIRE(undo(workshop).has_value());
        }
        auto workshop = Workshop::open(folder / "a.coilbook", surroundings);
        CHECK(next_redo(workshop)->note.what == "add coil A8");
        CHECK(next_undo(workshop)->note.what == "add coil A7");
        REQUIRE(redo(workshop).has_value());
        CHECK(workshop.catalogue().coils().count() == 2);
    }

    TEST_CASE("the making of the catalogue stays") {
        auto workshop = workshop_in_memory();
        CHECK_FALSE(next_undo(workshop).has_value());
        CHECK(undo(workshop).error().sentence == "there is nothing to undo");
        const auto first = history(workshop).front().note.id.text();
        says(undo(workshop, first).error().sentence, "made the catalogue itself");
    }

    TEST_CASE("an act is named by its id or the beginning of it") {
        auto workshop = workshop_in_memory();
        (void)add_coil(workshop, "A7").value();
        const auto first = history(workshop).front().note.id.text();
        (void)add_coil(workshop, "A8").value();
        says(undo(workshop, "0").error().sentence, "is the beginning of several");
        says(undo(workshop, "ZZZ").error().sentence, "the history has no act 'ZZZ'");
        CHECK(undo(workshop, first).value().note.what == "add coil A7");
    }
}

TEST_SUITE("The history for people and scripts") {
    TEST_CASE("every column stands in csv, and json says what was changed") {
        auto workshop = workshop_in_memory();
        (void)add_coil(workshop, "A7", "old bag").value();
        REQUIRE(undo(workshop).has_value());
        std::ostringstream csv;
        REQUIRE(write_history(workshop, {}, 100, csv, Format::csv).has_value());
        CHECK(csv.str().starts_with("id,at,who,program,what,why,changes,state,undoes,laptop\n"));
        says(csv.str(), ",test,coilbook test,undo: add coil A7,,1,undo,");
        says(csv.str(), ",add coil A7,,4,undone,,\n");
        std::ostringstream json;
        REQUIRE(write_history(workshop, {}, 1, json, Format::json).has_value());
        const auto rows = exchange::Json::parse(json.str());
        REQUIRE(rows.size() == 1);
        CHECK(rows[0]["changed"][0]["field"] == "is_undone");
        CHECK(rows[0]["changed"][0]["became"] == 1);
    }

    TEST_CASE("the history of one coil has its readings and words, and no other coil's") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        (void)add_coil(workshop, "A8").value();
        REQUIRE(record_reading(workshop, coil, ReadingField::tint, "dark").has_value());
        REQUIRE(confirm_coil(workshop, coil, "T-11").has_value());
        const auto entries = history(workshop, "A7");
        REQUIRE(entries.size() == 3);
        CHECK(entries[0].note.what == "confirm coil A7 as T-11");
        CHECK(entries[2].note.what == "add coil A7");
        std::ostringstream out;
        says(write_history(workshop, "B1", 100, out, Format::table).error().sentence,
             "there never was a coil 'B1'");
    }
}
