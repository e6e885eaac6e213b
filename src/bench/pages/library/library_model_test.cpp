#include "bench/pages/library/library_model.h"

#include <doctest/doctest.h>

#include "app/built_in_library.h"
#include "bench/pages/library/a_library.h"
#include "bench/pages/library/class_words.h"
#include "bench/pages/library/score_words.h"
#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::library_page;

namespace {

Form with_chosen(const char* name) {
    Form form;
    form.chosen_class = name;
    return form;
}

std::string all_of(const std::vector<std::string>& words) {
    std::string all;
    for (const auto& each : words) all += each + "\n";
    return all;
}

std::string names(const ListView& list) {
    std::string all;
    for (const ClassRow& row : list.rows) {
        all += (all.empty() ? "" : ", ") + (row.is_heading() ? row.heading + ":" : row.label);
    }
    return all;
}

}  // namespace

TEST_SUITE("The list of the classes") {
    TEST_CASE("stands by families, each class with its figures and its coils") {
        const auto list = view_of(with_chosen("T-11"), a_situation()).list;
        CHECK(names(list) ==
              "Level lines:, T-8, T-11, Matched tips:, size 11 type 6, Sinking leaders:, leader 5 "
              "in/s, Others:, floating line, unlisted");
        CHECK(list.summary == "6 classes, 2 confirmed coils");
        const ClassRow& t_11 = list.rows[2];
        CHECK(t_11.is_chosen);
        CHECK(t_11.grade == "type 7");
        CHECK(t_11.weight == "11.6");  // 11.55, as learned
        CHECK(t_11.density == "4.20");
        CHECK(t_11.confirmed == "2");
        CHECK(t_11.set_aside == "1");
        CHECK(list.rows[1].confirmed.empty());
        CHECK(list.rows[8].rate == "rises");
    }

    TEST_CASE("is found by words in any order, by family, by grade, and by a coil's code") {
        const auto situation = a_situation();
        const auto found = [&](const char* filter) {
            Form form;
            form.filter = filter;
            return names(view_of(form, situation).list);
        };
        CHECK(found("type size 11") == "Matched tips:, size 11 type 6");
        CHECK(found("LEVEL") == "Level lines:, T-8, T-11");
        CHECK(found("b7") == "Level lines:, T-11");  // confirmed as it, rightly or not
        CHECK(found("nothing like it").empty());
    }

    TEST_CASE("where nothing matches it says so, and where there is no class at all") {
        Form form;
        form.filter = "zzz";
        CHECK(mentions(view_of(form, a_situation()).list.nothing, "No class here matches"));
        CHECK(mentions(view_of({}, {}).list.nothing, "no reference classes"));
    }
}

TEST_SUITE("What is told about a class") {
    TEST_CASE("what it learned: from how many coils, and how far that moved it") {
        const auto about = view_of(with_chosen("T-11"), a_situation()).about.value();
        CHECK(about.kind == "level line, sinks like type 7");
        const std::string words = all_of(about.learning);
        says(words, "It learned from 1 confirmed coil");
        says(words, "+0.55 gr/ft, 5.0 % heavier");  // 11.55 beside 11.00
        says(words, "not denser");
        says(words, "within 2.0 % in weight, one standard deviation; as built in it was 3.0 %");
        says(words, "1 confirmed coil is set aside");
        REQUIRE(about.figures.size() == 4);
        CHECK(about.figures[0].built_in == "11.0 gr/ft");
        CHECK(about.figures[0].now == "11.6 gr/ft");
        CHECK(about.figures[0].change == "+5.0 %");
        CHECK(about.figures[1].change == "the same");
        CHECK(about.basis == "invented");
    }

    TEST_CASE("what built-in classes stand on is said in grams and metres, too") {
        for (const auto& each : app::built_in_library()) {
            CAPTURE(each.name);
            CHECK(basis_in(each.basis, grains_and_feet) == each.basis);
            const auto words = basis_in(each.basis, grams_and_metres);
            CAPTURE(words);
            for (const char* other : {"in/s", " ft", "Grains"}) {
                CHECK(words.find(other) == std::string::npos);
            }
        }
        // By hand: 6 and 7 in/s are 15.24 and 17.78 cm/s, 30 ft 9.144 m, 100 grains 6.48 g.
        CHECK(basis_in("type 6 is 6 to 7 in/s, the 100 grains over 30 ft (about 5.5: from memory)",
                       grams_and_metres) ==
              "type 6 is 15.2 to 17.8 cm/s, the 6.48 g over 9.14 m (about 14.0 cm/s: from "
              "memory)");
        CHECK(basis_in("Grains per foot: T-11 is 11 by name.", grams_and_metres) ==
              "Weight per metre: T-11 is 11 grains a foot by name.");
    }

    TEST_CASE("which coil looks wrong, why, and what to do about it") {
        const auto view = view_of(with_chosen("T-11"), a_situation());
        REQUIRE(view.about->doubts.size() == 1);
        says(view.about->doubts[0].words, "B7: It does not look like");
        CHECK(view.about->doubts[0].button == "Take back B7");
        says(view.about->remedy, "Read it anew at the bench");
        says(view.about->remedy, "confirm it as T-8");
        CHECK(view.doubtful == coil_id(2));
        CHECK(view.has_doubts);
        CHECK_FALSE(view_of(with_chosen("T-8"), a_situation()).doubtful.has_value());
    }

    TEST_CASE("a class that has learned nothing says so and has one column of figures") {
        const auto about = view_of(with_chosen("T-8"), a_situation()).about.value();
        CHECK_FALSE(about.has_learned);
        says(all_of(about.learning), "learned nothing yet");
        CHECK(about.figures[0].built_in == "8.00 gr/ft ± 3.0 %");
        CHECK(about.figures[0].now.empty());
        CHECK(about.doubts.empty());
        CHECK(about.remedy.empty());
    }

    TEST_CASE("which other classes are the same line in the water") {
        // 11.2 gr/ft of 3.9 g/cm3 beside 11.55 of 4.2: by alike.h exp(-(0.0308^2 / 0.00065 +
        // 0.0741^2 / 0.0064) / 8) x 0.96 = 0.72, above 0.6.
        const auto about = view_of(with_chosen("T-11"), a_situation()).about.value();
        says(about.fishes_like, "T-11 and size 11 type 6 tip fish alike");
        CHECK(view_of(with_chosen("T-8"), a_situation()).about->fishes_like.empty());
    }

    TEST_CASE("unlisted is no line: no figures, nothing learned, no place on the map") {
        const auto view = view_of(with_chosen("unlisted"), a_situation());
        CHECK(view.about->figures.empty());
        says(all_of(view.about->learning), "learns nothing");
        CHECK_FALSE(view.close_up.has_value());
    }
}

TEST_SUITE("How good the answers are, told") {
    TEST_CASE("below ten coils there is nothing to say, and how many there are is said") {
        const auto view = score_view(a_score(9, 9, 0.95));
        CHECK(view.rows.empty());
        says(all_of(view.words), "9 confirmed coils are too few to say");
        CHECK(score_view(a_score(10, 10, 0.95)).rows.size() == 3);
    }

    TEST_CASE("a worked example: 18 of 20 right, said 88 % sure") {
        const auto view = score_view(a_score(20, 18, 0.88));
        REQUIRE(view.rows.size() == 3);
        CHECK(view.rows[0].right == "18 of 20 right");
        // Wilson, z² = 3.8415: (0.9 + 0.09604 ± 1.96 √(0.0045 + 0.0024009)) / 1.19207 = 0.6990 and
        // 0.9721.
        CHECK(near(view.rows[0].low, 0.6990, 1e-4));
        CHECK(near(view.rows[0].high, 0.9721, 1e-4));
        says(view.rows[0].words, "right 90 % (of more coils 70 to 97 %), said 88 % sure");
        says(view.rows[0].words, "as sure as it should be");
        CHECK(view.rows[0].tone == Tone::good);
    }

    TEST_CASE("certainty outside of what luck explains is named") {
        says(score_view(a_score(20, 12, 0.95)).rows[0].words, "surer than it should be");
        CHECK(score_view(a_score(20, 12, 0.95)).rows[0].tone == Tone::warn);
        says(score_view(a_score(20, 20, 0.60)).rows[0].words, "it could be surer");
    }

    TEST_CASE("it says that it was not asked about what it had learned, and what is left out") {
        auto score = a_score(20, 18, 0.9);
        score.called_unlisted = 1;
        score.without_readings = 2;
        score.of_other_classes = 1;
        const auto words = all_of(score_view(score).words);
        says(words, "as if it had learned nothing from these coils");
        says(words, "1 of 20 was falsely called unlisted");
        says(words, "Left out: 2 without readings; 1 of a class made from your own coils.");
    }

    TEST_CASE("while it is being worked out it says so") {
        says(all_of(score_view(std::nullopt).words), "Being worked out");
    }
}
