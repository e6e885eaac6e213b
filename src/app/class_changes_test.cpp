#include "app/class_changes.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "app/coil_changes.h"
#include "app/confirmed_coils.h"
#include "app/day.h"
#include "app/outfit.h"
#include "app/undo.h"
#include "store/class_repository.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// A workshop with coils of 24 in that weigh so many grains a foot and are 4.2 g/cm3, all of one
// class of one's own.
struct Shelf {
    Workshop workshop = workshop_in_memory();

    void coil(const char* code, double grains_per_foot, const char* class_name,
              double density = 4.2) {
        const auto added = add_coil(workshop, code).value();
        const double kg_per_m = grains_per_foot * grain_per_foot.si();
        const double mm = 1000.0 * std::sqrt(4.0 * kg_per_m / (3.14159265358979 * density * 1000));
        const auto read = [&](ReadingField field, const std::string& text) {
            REQUIRE(record_reading(workshop, added, field, text).has_value());
        };
        read(ReadingField::sample_length, "24 in");
        read(ReadingField::sample_weight, std::to_string(2 * grains_per_foot) + " gr");
        read(ReadingField::diameters, std::to_string(mm) + " mm");
        REQUIRE(confirm_coil(workshop, added, class_name).has_value());
    }
    [[nodiscard]] const ReferenceClass* find(std::string_view name) const {
        const auto& library = workshop.library();
        const auto found = std::ranges::find(library, name, &ReferenceClass::name);
        return found == library.end() ? nullptr : &*found;
    }
    [[nodiscard]] std::vector<std::string> coils_of(std::string_view name) {
        std::vector<std::string> codes;
        for (const auto& each : confirmed_coils(workshop)) {
            if (each.class_name == name) codes.push_back(each.coil.code);
        }
        return codes;
    }
};

ClassWords some_words(const char* name = "green box line") {
    return {.name = name,
            .family = "level line",
            .grain_class = "",
            .density_grade = "type 6",
            .line_size = "",
            .grains_per_foot = "12.5",
            .grains_per_foot_spread = "2",
            .density = "3.9",
            .density_spread = "5",
            .weight = "2"};
}

}  // namespace

TEST_SUITE("Changing the classes of the library") {
    TEST_CASE(
        "figures that are typed are the class's from then on, others stay to the last digit") {
        Shelf shelf;
        const auto before = *shelf.find("T-11");
        auto words = words_of_class(shelf.workshop, "T-11").value();
        CHECK(words.grains_per_foot == "11");
        words.density = "4.35";
        REQUIRE(change_class(shelf.workshop, "T-11", words).has_value());
        const auto* after = shelf.find("T-11");
        REQUIRE(after != nullptr);
        CHECK(std::exp(after->line.ln_density_mean) == doctest::Approx(4.35));
        CHECK(after->line.ln_grains_per_foot_mean == before.line.ln_grains_per_foot_mean);
        CHECK(after->line.ln_density_sd == before.line.ln_density_sd);
        CHECK(mentions(after->basis, "Changed by test on 2026-01-01."));
        REQUIRE(undo(shelf.workshop).has_value());
        shelf.workshop.refresh();
        CHECK(*shelf.find("T-11") == before);
    }

    // 2.34 g/m x 0.3048 m / 64.79891 mg = 11.007 gr/ft.
    TEST_CASE("a weight may be typed in either set of units, and with its own") {
        Shelf shelf;
        auto words = words_of_class(shelf.workshop, "T-11", grams_and_metres).value();
        CHECK(words.grains_per_foot == "2.339");
        const auto acts = history(shelf.workshop).size();
        REQUIRE(change_class(shelf.workshop, "T-11", words).has_value());
        CHECK(history(shelf.workshop).size() == acts);  // what is only shown changes nothing
        const auto weight = [&] {
            return std::exp(shelf.find("T-11")->line.ln_grains_per_foot_mean);
        };
        words.grains_per_foot = "2.34";
        REQUIRE(change_class(shelf.workshop, "T-11", words).has_value());
        CHECK(weight() == doctest::Approx(11.0068).epsilon(1e-5));
        words.grains_per_foot = "12 gr/ft";
        REQUIRE(change_class(shelf.workshop, "T-11", words).has_value());
        CHECK(weight() == doctest::Approx(12.0));
        words.grains_per_foot = "300";
        const auto refused = change_class(shelf.workshop, "T-11", words);
        REQUIRE_FALSE(refused.has_value());
        CHECK(refused.error().field == "grains_per_foot");
        CHECK(refused.error().suggestion == "a number above 0.02126 and up to 212.6 g/m");
    }

    TEST_CASE("nothing typed is no act") {
        Shelf shelf;
        const auto words = words_of_class(shelf.workshop, "T-11").value();
        const auto acts = history(shelf.workshop).size();
        REQUIRE(change_class(shelf.workshop, "T-11", words).has_value());
        CHECK(history(shelf.workshop).size() == acts);
    }

    TEST_CASE("another name takes the confirmed coils along, in one act") {
        Shelf shelf;
        shelf.coil("A1", 11.0, "T-11");
        shelf.coil("A2", 11.1, "T-11");
        auto words = words_of_class(shelf.workshop, "T-11").value();
        words.name = "eleven";
        const auto acts = history(shelf.workshop).size();
        REQUIRE(change_class(shelf.workshop, "T-11", words).has_value());
        CHECK(history(shelf.workshop).size() == acts + 1);
        CHECK(shelf.find("T-11") == nullptr);
        REQUIRE(shelf.find("eleven") != nullptr);
        CHECK(shelf.find("eleven")->confirmed == 2);
        CHECK(shelf.coils_of("eleven") == std::vector<std::string>{"A1", "A2"});
        REQUIRE(undo(shelf.workshop).has_value());
        CHECK(shelf.coils_of("T-11") == std::vector<std::string>{"A1", "A2"});
    }

    TEST_CASE("a name that an outing to come asks for stays") {
        Shelf shelf;
        REQUIRE(add_boat(shelf.workshop, "Heron", 3, "").has_value());
        const auto words = words_of_class(shelf.workshop, "T-11").value();
        auto renamed = words;
        renamed.name = "eleven";
        const auto day = day_from("2026-06-14").value();
        REQUIRE(add_outing(shelf.workshop, day, "Heron", "").has_value());
        REQUIRE(promise_class(shelf.workshop, day, "Heron", "", "T-11", 2).has_value());
        const auto refused = change_class(shelf.workshop, "T-11", renamed);
        REQUIRE_FALSE(refused.has_value());
        CHECK(mentions(refused.error().sentence, "2026-06-14"));
        CHECK_FALSE(join_classes(shelf.workshop, "T-14", "T-11").has_value());
        CHECK(join_classes(shelf.workshop, "T-11", "T-14").has_value());
    }

    TEST_CASE("a class that is added can be confirmed, and undo takes it away") {
        Shelf shelf;
        REQUIRE(add_class(shelf.workshop, some_words()).has_value());
        const auto* made = shelf.find("green box line");
        REQUIRE(made != nullptr);
        CHECK(made->density_grade == DensityGrade::type(6));
        CHECK(shelf.workshop.library().back().family == Family::unlisted);
        shelf.coil("A1", 12.5, "green box line", 3.9);
        CHECK(shelf.find("green box line")->confirmed == 1);
        CHECK_FALSE(add_class(shelf.workshop, some_words()).has_value());
    }

    TEST_CASE("what cannot be is refused with its field") {
        Shelf shelf;
        const auto field = [&](ClassWords words) {
            const auto refused = add_class(shelf.workshop, words);
            REQUIRE_FALSE(refused.has_value());
            return refused.error().field;
        };
        auto words = some_words();
        words.name = "  ";
        CHECK(field(words) == "name");
        words = some_words("T-11");
        CHECK(field(words) == "name");
        words = some_words(std::string(61, 'x').c_str());
        CHECK(field(words) == "name");
        words = some_words();
        words.grains_per_foot = "heavy";
        CHECK(field(words) == "grains_per_foot");
        words.grains_per_foot = "0.05";
        CHECK(field(words) == "grains_per_foot");
        words = some_words();
        words.density = "26";
        CHECK(field(words) == "density");
        words = some_words();
        words.density_spread = "0";
        CHECK(field(words) == "density_spread");
        words = some_words();
        words.weight = "-1";
        CHECK(field(words) == "weight");
        words = some_words();
        words.family = "unlisted";
        CHECK(field(words) == "family");
        CHECK_FALSE(words_of_class(shelf.workshop, "unlisted").has_value());
        CHECK_FALSE(words_of_class(shelf.workshop, "T-99").has_value());
    }
}

TEST_SUITE("Splitting and joining classes") {
    TEST_CASE("a class whose coils fall apart is split at the widest gap") {
        Shelf shelf;
        REQUIRE(add_class(shelf.workshop, some_words("mixed box")).has_value());
        for (const auto& [code, weight] :
             {std::pair{"A1", 12.0}, {"A2", 12.1}, {"B1", 13.0}, {"B2", 13.1}, {"B3", 12.9}}) {
            shelf.coil(code, weight, "mixed box", 3.9);
        }
        const auto names = half_names("mixed box", CutBy::weight);
        const auto split =
            planned_split(shelf.workshop, "mixed box", {}, names.low, names.high).value();
        CHECK(split.cut.by == CutBy::weight);
        CHECK(split.cut.at == doctest::Approx(std::sqrt(12.1 * 12.9)).epsilon(0.001));
        CHECK(split.low.codes == std::vector<std::string>{"A1", "A2"});
        CHECK(split.high.codes == std::vector<std::string>{"B1", "B2", "B3"});
        CHECK(std::exp(split.low.made.line.ln_grains_per_foot_mean) ==
              doctest::Approx(12.05).epsilon(0.002));
        CHECK(shelf.find("mixed box light") == nullptr);  // only planned
        const auto acts = history(shelf.workshop).size();
        const double weight = shelf.find("mixed box")->weight;
        REQUIRE(split_class(shelf.workshop, "mixed box", split).has_value());
        CHECK(history(shelf.workshop).size() == acts + 1);
        CHECK(shelf.find("mixed box") == nullptr);
        REQUIRE(shelf.find("mixed box light") != nullptr);
        CHECK(shelf.find("mixed box light")->confirmed == 2);
        CHECK(shelf.find("mixed box light")->weight == doctest::Approx(0.4 * weight));
        CHECK(shelf.find("mixed box heavy")->weight == doctest::Approx(0.6 * weight));
        CHECK(shelf.find("mixed box heavy")->density_grade == DensityGrade::type(6));
        CHECK(shelf.coils_of("mixed box heavy") == std::vector<std::string>{"B1", "B2", "B3"});
        REQUIRE(undo(shelf.workshop).has_value());
        shelf.workshop.refresh();
        CHECK(shelf.coils_of("mixed box").size() == 5);
        CHECK(shelf.find("mixed box light") == nullptr);
        CHECK(shelf.find("mixed box")->weight == weight);
    }

    TEST_CASE("it is split where somebody says, and coils that do not tell are confirmed no more") {
        Shelf shelf;
        REQUIRE(add_class(shelf.workshop, some_words("mixed box")).has_value());
        shelf.coil("A1", 12.5, "mixed box", 3.6);
        shelf.coil("A2", 12.5, "mixed box", 4.2);
        const auto silent = add_coil(shelf.workshop, "C1").value();
        REQUIRE(confirm_coil(shelf.workshop, silent, "mixed box").has_value());
        const Cut cut{CutBy::density, 3.9};
        const auto split =
            planned_split(shelf.workshop, "mixed box", cut, "mixed box", "denser box").value();
        CHECK(split.untold == std::vector<std::string>{"C1"});
        REQUIRE(split_class(shelf.workshop, "mixed box", split).has_value());
        CHECK(shelf.coils_of("mixed box") == std::vector<std::string>{"A1"});
        CHECK(shelf.coils_of("denser box") == std::vector<std::string>{"A2"});
        REQUIRE(undo(shelf.workshop).has_value());
        CHECK(shelf.coils_of("mixed box").size() == 3);
    }

    TEST_CASE("there is no split with an empty half, nor one that would take a name") {
        Shelf shelf;
        shelf.coil("A1", 11.0, "T-11");
        CHECK_FALSE(planned_split(shelf.workshop, "T-11", {}, "a", "b").has_value());
        shelf.coil("A2", 11.2, "T-11");
        CHECK(planned_split(shelf.workshop, "T-11", {}, "a", "b").has_value());
        CHECK_FALSE(
            planned_split(shelf.workshop, "T-11", Cut{CutBy::weight, 14}, "a", "b").has_value());
        CHECK_FALSE(planned_split(shelf.workshop, "T-11", {}, "a", "a").has_value());
        CHECK_FALSE(planned_split(shelf.workshop, "T-11", {}, "T-14", "b").has_value());
        CHECK_FALSE(planned_split(shelf.workshop, "unlisted", {}, "a", "b").has_value());
    }

    TEST_CASE("two that are joined have their mean and spread together, and all their coils") {
        Shelf shelf;
        auto words = some_words("one");
        words.grains_per_foot = "10";
        words.weight = "1";
        REQUIRE(add_class(shelf.workshop, words).has_value());
        words.name = "two";
        words.grains_per_foot = "11";
        words.weight = "3";
        REQUIRE(add_class(shelf.workshop, words).has_value());
        shelf.coil("A1", 10.0, "one", 3.9);
        shelf.coil("A2", 11.0, "two", 3.9);
        const auto planned = planned_join(shelf.workshop, "one", "two").value();
        // By hand: weights 1 and 3, so the mean lies three quarters of the way; the variance is
        // 0.02² + (1/4)(3/4)(ln 1.1)².
        const double apart = std::log(1.1);
        CHECK(planned.line.ln_grains_per_foot_mean ==
              doctest::Approx(std::log(10.0) + 0.75 * apart));
        CHECK(planned.line.ln_grains_per_foot_sd ==
              doctest::Approx(std::sqrt(0.0004 + 0.1875 * apart * apart)));
        CHECK(planned.line.ln_density_sd == doctest::Approx(0.05));
        CHECK(planned.weight == doctest::Approx(4.0));
        const auto acts = history(shelf.workshop).size();
        REQUIRE(join_classes(shelf.workshop, "one", "two").has_value());
        CHECK(history(shelf.workshop).size() == acts + 1);
        CHECK(shelf.find("two") == nullptr);
        CHECK(shelf.find("one")->confirmed == 2);
        CHECK(shelf.coils_of("one") == std::vector<std::string>{"A1", "A2"});
        REQUIRE(undo(shelf.workshop).has_value());
        CHECK(shelf.coils_of("two") == std::vector<std::string>{"A2"});
        CHECK_FALSE(planned_join(shelf.workshop, "one", "one").has_value());
        CHECK_FALSE(planned_join(shelf.workshop, "one", "unlisted").has_value());
    }
}
