#include "app/learning.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>

#include "app/bin.h"
#include "app/coil_changes.h"
#include "app/coil_rows.h"
#include "store/coil_repository.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// A coil read with the bench's own instruments.
Coil a_read_coil(Workshop& workshop, const char* code, const char* weight, const char* diameters) {
    const auto coil = add_coil(workshop, code).value();
    for (const auto& [field, text] : {std::pair{ReadingField::sample_length, "24 in"},
                                      std::pair{ReadingField::sample_weight, weight},
                                      std::pair{ReadingField::diameters, diameters}}) {
        REQUIRE(record_reading(workshop, coil, field, text).has_value());
    }
    return coil;
}

const ReferenceClass& class_of(const Workshop& workshop, const char* name) {
    return *std::ranges::find(workshop.library(), name, &ReferenceClass::name);
}

std::string doubtful_csv(Workshop& workshop) {
    std::ostringstream out;
    list_doubtful(workshop, out, Format::csv);
    return out.str();
}

constexpr const char* no_doubt = "code,confirmed_class,chance,better_class\n";

}  // namespace

TEST_SUITE("What a catalogue has learned") {
    // 23.4 gr over 24 in are 11.7 gr/ft, 6 % above T-11's name.
    TEST_CASE("confirming teaches the class at once, and taking back undoes it to the last bit") {
        auto workshop = workshop_in_memory();
        const auto before = workshop.library();
        std::vector<Coil> coils;
        for (const char* code : {"A1", "A2", "A3"}) {
            coils.push_back(a_read_coil(workshop, code, "23.4 gr", "0.86 0.87 mm"));
            REQUIRE(confirm_coil(workshop, coils.back(), "T-11").has_value());
        }
        const auto learned = class_of(workshop, "T-11");
        CHECK(learned.confirmed == 3);
        CHECK(learned.line.degrees_of_freedom.has_value());
        const double named = std::log(11.0);
        CHECK(learned.line.ln_grains_per_foot_mean > named + 0.045);
        CHECK(learned.line.ln_grains_per_foot_mean < named + 0.062);
        CHECK(learned.line.ln_grains_per_foot_sd < 0.03);
        CHECK(class_of(workshop, "T-12") ==
              *std::ranges::find(before, "T-12", &ReferenceClass::name));

        // A correction of a confirmed coil's reading counts at once, too.
        REQUIRE(record_reading(workshop, coils[0], ReadingField::sample_weight, "23.0 gr"));
        CHECK(class_of(workshop, "T-11").line.ln_grains_per_foot_mean <
              learned.line.ln_grains_per_foot_mean);

        for (const auto& coil : coils) REQUIRE(take_confirmation_back(workshop, coil).has_value());
        CHECK(workshop.library() == before);
    }

    TEST_CASE("verdicts in the bin are made anew when a class has learned") {
        auto workshop = workshop_in_memory();
        const auto in_question = a_read_coil(workshop, "X", "23.4 gr", "0.86 0.87 mm");
        Bin bin;
        bin.refresh(workshop);
        const auto probability = [&] {
            const auto& verdict = bin.verdict(bin.find(in_question.id).value());
            for (std::size_t k = 0; k < bin.library().size(); ++k) {
                if (bin.library()[k].name == "T-11") return verdict.probabilities[k];
            }
            return -1.0;
        };
        const double before = probability();
        for (const char* code : {"A1", "A2", "A3", "A4"}) {
            const auto coil = a_read_coil(workshop, code, "23.5 gr", "0.86 0.87 mm");
            REQUIRE(confirm_coil(workshop, coil, "T-11").has_value());
        }
        bin.refresh(workshop);
        CHECK(probability() > before + 0.1);
    }

    TEST_CASE("classes show what they were before, and how many coils were set aside") {
        auto workshop = workshop_in_memory();
        for (const char* code : {"A1", "A2", "A3"}) {
            const auto coil = a_read_coil(workshop, code, "22.3 gr", "0.84 0.85 mm");
            REQUIRE(confirm_coil(workshop, coil, "T-11").has_value());
        }
        CHECK(doubtful_csv(workshop) == no_doubt);
        const auto wrong = a_read_coil(workshop, "B7", "16.1 gr", "0.71 0.72 mm");
        REQUIRE(confirm_coil(workshop, wrong, "T-11").has_value());

        const auto listings = listings_of(workshop.learned());
        const auto& t_11 = *std::ranges::find_if(
            listings, [](const ClassListing& each) { return each.now.name == "T-11"; });
        CHECK(t_11.built_in.ln_grains_per_foot_mean == std::log(11.0));
        CHECK(t_11.now.line.ln_grains_per_foot_mean > std::log(11.0));
        CHECK(t_11.set_aside == 1);
        CHECK(t_11.now.confirmed == 4);

        says(doubtful_csv(workshop), "\nB7,T-11,");
        says(doubtful_csv(workshop), ",T-8\n");
        std::ostringstream table;
        list_doubtful(workshop, table, Format::table);
        says(table.str(), "1 in ");
        says(table.str(), "take-back");
        std::ostringstream page;
        REQUIRE(show_coil(workshop, "B7", page, Format::table).has_value());
        says(page.str(), "It does not look like the other coils confirmed as T-11");
        says(page.str(), "it fits T-8 better");
        REQUIRE(take_confirmation_back(workshop, wrong).has_value());
        CHECK(doubtful_csv(workshop) == no_doubt);
        CHECK(doubt_about(workshop, wrong.id).empty());
    }

    TEST_CASE("a retired coil is an example all the same, and one without readings is none") {
        auto workshop = workshop_in_memory();
        auto coil = a_read_coil(workshop, "A1", "23.4 gr", "0.86 mm");
        REQUIRE(confirm_coil(workshop, coil, "T-11").has_value());
        const auto learned = workshop.library();
        coil.is_retired = true;
        REQUIRE(workshop.catalogue().act(workshop.note("retire"), [&](store::Act& act) {
            return workshop.catalogue().coils().change(act, coil);
        }));
        workshop.refresh();
        CHECK(workshop.library() == learned);
        const auto empty = add_coil(workshop, "A2").value();
        REQUIRE(confirm_coil(workshop, empty, "T-11").has_value());
        const auto before = std::ranges::find(learned, "T-11", &ReferenceClass::name);
        CHECK(class_of(workshop, "T-11").line == before->line);
        CHECK(class_of(workshop, "T-11").confirmed == 2);
    }
}
