// The classifier alone on exactly known lines, to be held against a quadratic discriminant of a
// general-purpose library on the same points (tools/measure-speed).
// usage: discriminant_speed POINTS, one "ln(gr/ft) ln(g/cm3)" a line. Prints the seconds that all
// posteriors took, then for each point the best class's number and probability.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <vector>

#include "app/built_in_library.h"
#include "identify/posterior.h"

using namespace coilbook;

namespace {

// What readings of that line good to a part in a million would say.
Evidence exactly(const LinePoint& point) {
    constexpr double sd = 1e-6;
    Evidence evidence;
    evidence.bells.r << 1.0 / sd, 0.0, 0.0, 1.0 / sd;
    evidence.bells.one.b = point / sd;
    return evidence;
}

struct Answer {
    std::size_t best;
    double probability;
};

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2) return 2;
    std::ifstream file(argv[1]);
    std::vector<Evidence> all;
    for (LinePoint point; file >> point.x() >> point.y();) all.push_back(exactly(point));
    const PreparedLibrary library(app::built_in_library());
    Posterior posterior(library);
    std::vector<Answer> answers;
    answers.reserve(all.size());
    const auto start = std::chrono::steady_clock::now();
    for (const auto& evidence : all) {
        posterior.take_up(evidence);
        const auto best = std::ranges::max_element(posterior.probabilities());
        answers.push_back(
            {static_cast<std::size_t>(best - posterior.probabilities().begin()), *best});
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    fmt::print("{}\n", took.count());
    for (const auto& [best, probability] : answers) fmt::print("{} {}\n", best, probability);
}
