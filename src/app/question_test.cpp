#include "app/question.h"

#include <doctest/doctest.h>

#include "app/bin.h"
#include "app/coil_changes.h"
#include "store/history_repository.h"
#include "store/setting_repository.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

Question about(Answer answer) {
    Question question;
    question.answer = answer;
    return question;
}

}  // namespace

TEST_SUITE("What the person wants to know") {
    TEST_CASE("without a word it is which line, the most telling reading first") {
        auto workshop = workshop_in_memory();
        CHECK(question_of(workshop) == Question{});
    }

    TEST_CASE("every question is kept in the catalogue and comes back") {
        auto workshop = workshop_in_memory();
        for (const Answer answer : {Answer::grain_class, Answer::density_grade, Answer::line}) {
            Question question = about(answer);
            question.by_time = answer != Answer::line;
            ask(workshop, question);
            CHECK(question_of(workshop) == question);
        }
        Question like = about(Answer::fishes_like);
        like.like = 3;
        ask(workshop, like);
        CHECK(question_of(workshop) == like);
    }

    TEST_CASE("asking the same again leaves nothing in the history") {
        auto workshop = workshop_in_memory();
        ask(workshop, about(Answer::grain_class));
        const auto before = workshop.catalogue().history().of_thing("question").size();
        CHECK(before > 0);
        ask(workshop, about(Answer::grain_class));
        CHECK(workshop.catalogue().history().of_thing("question").size() == before);
    }

    TEST_CASE("a setting without sense is as good as none") {
        auto workshop = workshop_in_memory();
        const auto put = [&](const char* name, const char* value) {
            const auto done = workshop.catalogue().act(workshop.note("test"), [&](store::Act& act) {
                return workshop.catalogue().settings().put(act, name, value);
            });
            REQUIRE(done.has_value());
        };
        put("question", "the meaning of it all");
        CHECK(question_of(workshop) == Question{});
        put("question", "fishes like");
        put("question.like", "no such class");
        CHECK(question_of(workshop) == Question{});
    }

    TEST_CASE("another question changes the advice and nothing that the coil is held to be") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_length, "24 in"));
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, "22.1 gr"));
        Bin bin;
        bin.refresh(workshop);
        const Verdict which = bin.verdict(0);
        bin.ask(about(Answer::grain_class));
        const Verdict grains = bin.verdict(0);
        CHECK(grains.probabilities == which.probabilities);
        REQUIRE_FALSE(which.advice.empty());
        REQUIRE_FALSE(grains.advice.empty());
        // Fewer answers to tell apart leave less to tell.
        CHECK(grains.advice.front().bits < which.advice.front().bits);
    }

    TEST_CASE("the quickest-telling reading comes first when that is asked for") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_length, "24 in"));
        REQUIRE(record_reading(workshop, coil, ReadingField::sample_weight, "22.1 gr"));
        Bin bin;
        bin.refresh(workshop);
        Question question;
        question.by_time = true;
        bin.ask(question);
        const auto& advice = bin.verdict(0).advice;
        REQUIRE(advice.size() > 1);
        for (std::size_t at = 1; at < advice.size(); ++at) {
            CHECK(advice[at - 1].bits_per_minute() >= advice[at].bits_per_minute());
        }
    }
}
