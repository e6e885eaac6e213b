#include "bench/pages/bench/next_words.h"

#include <doctest/doctest.h>

#include "bench/pages/bench/a_bench.h"
#include "quantity/units.h"

using namespace coilbook;
using namespace coilbook::bench::bench_page;

namespace {

const ReferenceLibrary library{a_class("T-8", 8, 4.2), a_class("T-11", 11, 4.2)};

Verdict a_verdict_with(double chance) {
    Verdict verdict = a_verdict(2);
    verdict.advice = {{ReadingField::diameters, 0.4, chance, 40.0 * second,
                       "measure the diameter in three places"}};
    return verdict;
}

}  // namespace

TEST_SUITE("The next reading in words") {
    TEST_CASE("what to do, how long it takes and how likely it is to change the answer") {
        const NextWords words = next_words(a_verdict_with(0.125), {}, library);
        CHECK(words.what == "Next, measure the diameter in three places.");
        CHECK(words.cost == "About half a minute, with 1 chance in 8 to change the answer.");
        CHECK_FALSE(words.is_enough);
    }

    TEST_CASE("enough is said as such, whatever could still be read") {
        Verdict verdict = a_verdict_with(0.004);
        verdict.enough = true;
        const NextWords words = next_words(verdict, {}, library);
        CHECK(words.is_enough);
        CHECK(words.what == "Enough: no further reading is likely to change this.");
        CHECK(words.cost.empty());
    }

    TEST_CASE("readings that cannot be right are never enough") {
        Verdict verdict = a_verdict_with(0.004);
        verdict.enough = true;
        for (const Flag flag : {Flag::inconsistent, Flag::implausible, Flag::unit_mixup}) {
            verdict.flags = {flag};
            CHECK_FALSE(next_words(verdict, {}, library).is_enough);
        }
        verdict.flags = {Flag::ambiguous};  // two names may be one line: that is an answer
        CHECK(next_words(verdict, {}, library).is_enough);
    }

    TEST_CASE("the words are about what is asked") {
        Question question;
        question.answer = Answer::grain_class;
        CHECK(asked(question, library) == "Only its grain class");
        CHECK(next_words(a_verdict_with(0.5), question, library).cost ==
              "About half a minute, with an even chance to change its grain class.");
        question.answer = Answer::fishes_like;
        question.like = 1;
        CHECK(asked(question, library) == "Fishes like T-11?");
        CHECK(next_words(a_verdict_with(0.2), question, library).cost ==
              "About half a minute, with 1 chance in 5 to change whether it fishes like T-11.");
        CHECK(order_asked(question) == "Most telling first");
        question.by_time = true;
        CHECK(order_asked(question) == "Quickest-telling first");
    }

    TEST_CASE("times are said as people say them") {
        CHECK(about(5.0 * second) == "a few seconds");
        CHECK(about(20.0 * second) == "a third of a minute");
        CHECK(about(40.0 * second) == "half a minute");
        CHECK(about(60.0 * second) == "1 minute");
        CHECK(about(89.0 * second) == "1 minute");
        CHECK(about(180.0 * second) == "3 minutes");
    }

    TEST_CASE("chances are said as people say them") {
        CHECK(chance_in_words(0.0) == "hardly a chance");
        CHECK(chance_in_words(0.01) == "1 chance in 100");
        CHECK(chance_in_words(0.33) == "1 chance in 3");
        CHECK(chance_in_words(0.5) == "an even chance");
        CHECK(chance_in_words(0.9) == "a good chance");
    }

    TEST_CASE("without advice nothing is said") {
        CHECK(next_words(a_verdict(2), {}, library).what.empty());
    }
}
