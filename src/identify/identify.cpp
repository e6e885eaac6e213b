#include "identify/identify.h"

#include <algorithm>
#include <cassert>
#include <map>
#include <numeric>

#include "identify/alike.h"
#include "identify/consistency.h"
#include "identify/facts.h"
#include "identify/next_reading.h"
#include "identify/posterior.h"
#include "identify/reasons.h"

namespace coilbook {
namespace {

constexpr double unambiguous_from = 0.8;

// The most probable value of one facet; classes without it count for 'none'. Of equals, the first
// in the library's order wins, so that the answer does not depend on how a map sorts.
template <class Value>
Facet<Value> marginal(const ReferenceLibrary& library, const std::vector<double>& probabilities,
                      std::optional<Value> ReferenceClass::*facet) {
    std::map<std::optional<Value>, double> sums;
    for (std::size_t k = 0; k < library.size(); ++k) sums[library[k].*facet] += probabilities[k];
    Facet<Value> best;
    for (const auto& reference : library) {
        const double sum = sums[reference.*facet];
        if (sum > best.probability) best = {reference.*facet, sum};
    }
    best.probability = std::min(best.probability, 1.0);
    return best;
}

std::vector<std::size_t> ranked(const std::vector<double>& probabilities) {
    std::vector<std::size_t> ranking(probabilities.size());
    std::iota(ranking.begin(), ranking.end(), std::size_t{0});
    std::ranges::stable_sort(ranking, std::greater{},
                             [&](std::size_t k) { return probabilities[k]; });
    return ranking;
}

}  // namespace

Result<Verdict> identify(const CoilReadings& readings, const Instruments& instruments,
                         const ReferenceLibrary& library, const Water& fished_in) {
    assert(std::ranges::count(library, std::optional{Family::unlisted}, &ReferenceClass::family) ==
               1 &&
           "a library has exactly one class of family unlisted");
    const auto evidence = evidence_of(readings, instruments);
    if (!evidence) return tl::unexpected(evidence.error());

    Verdict verdict;
    std::vector<LineUpdate> updates(library.size());
    verdict.probabilities.resize(library.size());
    const double ln_likelihood = posterior(*evidence, library, updates, verdict.probabilities);
    verdict.ranking = ranked(verdict.probabilities);
    verdict.grain_class = marginal(library, verdict.probabilities, &ReferenceClass::grain_class);
    verdict.density_grade =
        marginal(library, verdict.probabilities, &ReferenceClass::density_grade);
    verdict.line_size = marginal(library, verdict.probabilities, &ReferenceClass::line_size);
    verdict.family = marginal(library, verdict.probabilities, &ReferenceClass::family);
    for (std::size_t k = 0; k < library.size(); ++k) {
        if (library[k].family == Family::unlisted) {
            verdict.unlisted_probability = verdict.probabilities[k];
        }
    }
    verdict.advice =
        further_readings(readings, *evidence, instruments, library, updates, verdict.probabilities);
    verdict.fishes_like = fishing_like(verdict.best(), library);

    const auto fit = fit_facts(*evidence, fished_in);
    verdict.facts = fit.facts;
    auto warnings = contradictions(readings, *evidence, fit);
    if (!warnings.empty()) verdict.flags.push_back(Flag::inconsistent);
    const auto impossible = implausibilities(fit.facts);
    if (!impossible.empty()) verdict.flags.push_back(Flag::implausible);
    warnings.insert(warnings.end(), impossible.begin(), impossible.end());

    // A mix-up leaves something odd; where nothing is, there is none to look for.
    std::optional<UnitMixup> mixup;
    if (!warnings.empty() || library[verdict.best()].family == Family::unlisted) {
        mixup = unit_mixup(readings, instruments, library, ln_likelihood);
    }
    if (mixup) verdict.flags.push_back(Flag::unit_mixup);
    if (verdict.probabilities[verdict.best()] < unambiguous_from) {
        verdict.flags.push_back(Flag::ambiguous);
    }
    verdict.because = reasons(readings, library, verdict, warnings, mixup);
    return verdict;
}

}  // namespace coilbook
