#include "identify/same_line.h"

#include <doctest/doctest.h>

#include <Eigen/LU>
#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <chrono>
#include <cmath>
#include <map>
#include <numbers>
#include <random>

#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

LineInformation read_as(const LinePoint& point, double x_sd, double y_sd) {
    return information_of(Gaussian2{point, Eigen::Vector2d(x_sd * x_sd, y_sd * y_sd).asDiagonal()});
}
LineInformation weighed_as(double x, double sd) {
    LineInformation line;
    line.precision(0, 0) = 1.0 / (sd * sd);
    line.pull(0) = x / (sd * sd);
    return line;
}

std::string code(std::size_t i) {
    return "C" + std::to_string(100000 + i);
}

// A bin of which it is known what belongs together.
struct Bin {
    std::vector<BinCoilLine> coils;
    std::map<std::string, std::size_t> line_of;
};

// Lines anywhere among fishing lines, each with some coils, read with 24 in on a scale of 0.1 gr
// and a micrometer, but for a share of the coils that were only weighed. Lines are `apart` standard
// deviations of their coils apart from each other at least.
Bin a_bin(std::size_t lines, std::size_t most_coils, double apart, double only_weighed,
          unsigned seed) {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> even;
    Bin bin;
    std::vector<LinePoint> taken;
    for (std::size_t line = 0; line < lines; ++line) {
        LinePoint at;
        do {
            at = {std::log(4.0) + even(random) * std::log(4.5),
                  std::log(1.05) + even(random) * std::log(4.2)};
        } while (std::ranges::any_of(taken, [&](const LinePoint& other) {
            return std::hypot((at.x() - other.x()) / within_line_ln_weight_sd,
                              (at.y() - other.y()) / within_line_ln_density_sd) < apart;
        }));
        taken.push_back(at);
        const std::size_t count = 1 + random() % most_coils;
        for (std::size_t i = 0; i < count; ++i) {
            const LinePoint coil = at + LinePoint(within_line_ln_weight_sd * normal(random),
                                                  within_line_ln_density_sd * normal(random));
            const double x_sd = 0.06 / (2.0 * std::exp(coil.x()));  // 0.06 gr of 24 in
            const double y_sd = std::hypot(x_sd, 0.03);
            const LinePoint read = coil + LinePoint(x_sd * normal(random), y_sd * normal(random));
            const auto name = code(bin.coils.size());
            const bool is_only_weighed = even(random) < only_weighed;
            bin.coils.push_back(
                {name, is_only_weighed ? weighed_as(read.x(), x_sd) : read_as(read, x_sd, y_sd),
                 std::nullopt, std::nullopt});
            bin.line_of[name] = line;
        }
    }
    return bin;
}

// Of the pairs put together, how many belong together, and of those that do, how many were.
struct Pairs {
    double together = 0.0, right = 0.0, all = 0.0;
    void count(const Bin& bin, const std::vector<LineGroup>& groups) {
        std::map<std::size_t, double> of_line;
        for (const auto& [name, line] : bin.line_of) of_line[line] += 1.0;
        for (const auto& [line, n] : of_line) all += 0.5 * n * (n - 1.0);
        for (const auto& group : groups) {
            std::map<std::size_t, double> in_group;
            for (const auto& each : group.codes) in_group[bin.line_of.at(each)] += 1.0;
            const double n = static_cast<double>(group.codes.size());
            together += 0.5 * n * (n - 1.0);
            for (const auto& [line, k] : in_group) right += 0.5 * k * (k - 1.0);
        }
    }
    [[nodiscard]] double precision() const { return right / together; }
    [[nodiscard]] double recall() const { return right / all; }
};

std::vector<std::vector<std::string>> codes_of(const std::vector<LineGroup>& groups) {
    std::vector<std::vector<std::string>> codes;
    for (const auto& group : groups) codes.push_back(group.codes);
    return codes;
}

}  // namespace

TEST_SUITE("The same line") {
    // One unknown, by numerical integration: two coils weighed at 0.01 and 0.025 over the mean of
    // all lines with errors of 0.006, each 0.012 from its line: √(0.006² + 0.012²) of the line.
    TEST_CASE("the odds are the integrals over the lines that could be behind the readings") {
        const double sd = std::hypot(0.006, within_line_ln_weight_sd);
        const auto normal = [](double x, double s) {
            return std::exp(-0.5 * x * x / (s * s)) / (s * std::sqrt(2.0 * std::numbers::pi));
        };
        using Rule = boost::math::quadrature::gauss_kronrod<double, 61>;
        const auto over_lines = [&](auto likelihood) {
            return Rule::integrate(
                [&](double x) { return normal(x, any_line_ln_weight_sd) * likelihood(x); }, -0.3,
                0.3, 12, 1e-12);
        };
        const auto one = [&](double x) { return normal(0.01 - x, sd); };
        const auto other = [&](double x) { return normal(0.025 - x, sd); };
        const double both = over_lines([&](double x) { return one(x) * other(x); });
        const double expected =
            std::log(both / (over_lines(one) * over_lines(other)) / kinds_in_a_bin);
        const double actual =
            ln_odds_of_one_line(weighed_as(any_line_ln_weight_mean + 0.01, 0.006),
                                weighed_as(any_line_ln_weight_mean + 0.025, 0.006));
        CHECK(near(actual, expected, 1e-9));
    }

    TEST_CASE("four coils alike are one line, and one of another density is not") {
        const LinePoint at{std::log(9.3), std::log(3.1)};
        std::vector<BinCoilLine> coils;
        for (const double off : {-0.8, -0.2, 0.3, 0.9}) {
            coils.push_back({code(coils.size()),
                             read_as(at + LinePoint(0.012 * off, -0.03 * off), 0.005, 0.03),
                             Tint::dark, Taper::level});
        }
        coils.push_back({"Z", read_as(at + LinePoint(0.0, 0.3), 0.005, 0.03), {}, {}});
        const auto groups = same_lines(coils);
        REQUIRE(groups.size() == 2);
        const auto& four = groups[0].codes.size() == 4 ? groups[0] : groups[1];
        CHECK(four.codes == std::vector{code(0), code(1), code(2), code(3)});
        for (const double probability : four.probabilities) CHECK(probability > 0.8);
        CHECK(near(four.line.mean.x(), at.x(), 0.006));
        CHECK(near(four.line.mean.y(), at.y(), 0.02));
        // √((0.012² + 0.005²)/4) of ln weight.
        CHECK(near(std::sqrt(four.line.covariance(0, 0)), 0.0065, 1e-5));

        // No class of the small library is near 9.3 gr/ft and 3.1 g/cm3.
        const auto library = a_library();
        const auto found = name_of_group(four, library);
        CHECK_FALSE(found.listed.has_value());
        CHECK(found.probability > 0.95);
        const auto made =
            class_from_group("the green box's", Family::matched_tip, four, coils, library);
        REQUIRE(made.has_value());
        CHECK(near(made->line.ln_grains_per_foot_mean, at.x(), 0.006));
        CHECK(near(made->line.ln_grains_per_foot_sd, std::hypot(0.012, 0.0065), 1e-5));
        CHECK(near(made->tints[3], 5.0 / 9.0, 1e-12));
        CHECK(near(made->tapered, 1.0 / 6.0, 1e-12));
        auto larger = library;
        larger.push_back(*made);
        CHECK(name_of_group(four, larger).listed == library.size());
        CHECK_FALSE(class_from_group("T-11", {}, four, coils, library).has_value());
        CHECK_FALSE(class_from_group(" ", {}, four, coils, library).has_value());
    }

    TEST_CASE("a group of a listed line is called by its name") {
        const auto library = a_library();
        std::vector<BinCoilLine> coils;
        for (const double off : {-0.5, 0.1, 0.6}) {
            coils.push_back({code(coils.size()),
                             read_as({std::log(8.1) + 0.012 * off, std::log(4.1)}, 0.005, 0.03),
                             {},
                             {}});
        }
        const auto groups = same_lines(coils);
        REQUIRE(groups.size() == 1);
        const auto found = name_of_group(groups[0], library);
        CHECK(library[found.listed.value()].name == "T-8");
        CHECK(found.probability > 0.8);
    }

    TEST_CASE("a coil that was only weighed may join, and one without a weight stays alone") {
        const LinePoint at{std::log(9.3), std::log(3.1)};
        LineInformation diameter;  // says something of weight and density together only
        diameter.precision << 2500.0, -2500.0, -2500.0, 2500.0;
        diameter.pull = diameter.precision * at;
        const auto groups = same_lines({{"A", read_as(at, 0.005, 0.03), {}, {}},
                                        {"B", weighed_as(at.x() + 0.004, 0.005), {}, {}},
                                        {"C", diameter, {}, {}},
                                        {"D", {}, {}, {}}});
        auto codes = codes_of(groups);
        std::ranges::sort(codes);
        CHECK(codes == std::vector<std::vector<std::string>>{{"A", "B"}, {"C"}, {"D"}});
    }

    TEST_CASE("the order of the coils does not count") {
        auto bin = a_bin(25, 8, 0.0, 0.1, 1);
        const auto groups = same_lines(bin.coils);
        std::mt19937 random(2);
        for (int i = 0; i < 10; ++i) {
            std::ranges::shuffle(bin.coils, random);
            const auto again = same_lines(bin.coils);
            CHECK(codes_of(again) == codes_of(groups));
            CHECK(again[3].line.mean == groups[3].line.mean);
        }
    }

    // Forty bins of twenty lines and ninety coils or so. Where lines may be as near as chance has
    // it, some are the same for all that can be read.
    TEST_CASE("simulated bins: nearly all pairs that belong together are found, and few others") {
        struct Row {
            double apart, only_weighed, precision, recall;
        };
        for (const auto& [apart, only_weighed, precision, recall] :
             {Row{0.0, 0.1, 0.83, 0.91}, Row{5.0, 0.1, 0.93, 0.93}, Row{0.0, 0.0, 0.86, 0.95},
              Row{5.0, 0.0, 0.98, 0.97}, Row{8.0, 0.0, 0.99, 0.98}}) {
            Pairs pairs;
            for (unsigned seed = 0; seed < 40; ++seed) {
                const auto bin = a_bin(20, 8, apart, only_weighed, 100 + seed);
                pairs.count(bin, same_lines(bin.coils));
            }
            MESSAGE("lines " << apart << " sd apart, " << 100.0 * only_weighed
                             << " % only weighed: precision " << pairs.precision() << ", recall "
                             << pairs.recall());
            CHECK(pairs.precision() > precision);
            CHECK(pairs.recall() > recall);
        }
    }

    TEST_CASE("a large bin takes a moment") {
        const auto bin = a_bin(30, 100, 5.0, 0.0, 5);
        CHECK(bin.coils.size() > 1000);
        const auto start = std::chrono::steady_clock::now();
        const auto groups = same_lines(bin.coils);
        const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
        Pairs pairs;
        pairs.count(bin, groups);
        MESSAGE(bin.coils.size() << " coils, " << groups.size() << " groups of 30 lines in "
                                 << took.count() << " s: precision " << pairs.precision()
                                 << ", recall " << pairs.recall());
        CHECK(pairs.precision() > 0.98);
        CHECK(pairs.recall() > 0.97);
        CHECK(took.count() < 30.0);
    }
}
