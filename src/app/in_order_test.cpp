#include "app/in_order.h"

#include <doctest/doctest.h>

#include <atomic>
#include <stdexcept>

using coilbook::app::in_order;

namespace {

std::function<std::optional<int>()> numbers_up_to(int end) {
    return [next = 0, end]() mutable -> std::optional<int> {
        if (next == end) return std::nullopt;
        return next++;
    };
}

}  // namespace

TEST_SUITE("Work in order") {
    TEST_CASE("results come in the order of the jobs, whoever is done first") {
        std::vector<int> results;
        in_order<int, int>(
            3, numbers_up_to(1000),
            [](int& job, unsigned) {
                volatile int pace = (job * 7919) % 1000;
                while (pace > 0) pace = pace - 1;
                return 2 * job;
            },
            [&](int& result) {
                results.push_back(result);
                return true;
            });
        REQUIRE(results.size() == 1000);
        for (int i = 0; i < 1000; ++i) REQUIRE(results[static_cast<std::size_t>(i)] == 2 * i);
    }

    TEST_CASE("no more than a few jobs are fetched before their results are taken") {
        int fetched = 0;
        int taken = 0;
        int most = 0;
        auto numbers = numbers_up_to(500);
        in_order<int, int>(
            2,
            [&] {
                ++fetched;
                return numbers();
            },
            [](int& job, unsigned) { return job; },
            [&](int&) {
                most = std::max(most, fetched - taken++);
                return true;
            });
        CHECK(taken == 500);
        CHECK(most <= 9);
    }

    TEST_CASE("it stops when the taker has enough, and passes on what is thrown") {
        int taken = 0;
        in_order<int, int>(
            2, numbers_up_to(1'000'000), [](int& job, unsigned) { return job; },
            [&](int&) { return ++taken < 10; });
        CHECK(taken == 10);
        CHECK_THROWS_WITH_AS((in_order<int, int>(
                                 2, numbers_up_to(100),
                                 [](int& job, unsigned) {
                                     if (job == 50) throw std::runtime_error("fifty");
                                     return job;
                                 },
                                 [](int&) { return true; })),
                             "fifty", std::runtime_error);
    }
}
