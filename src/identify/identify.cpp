#include "identify/identify.h"

#include <algorithm>
#include <boost/container/small_vector.hpp>

#include "identify/consistency.h"
#include "identify/facts.h"
#include "identify/reasons.h"

namespace coilbook {
namespace {

constexpr double unambiguous_from = 0.8;

// The most probable value of one facet; classes without it count for 'none'. Of equals, the first
// in the library's order wins.
template <class Value>
Facet<Value> marginal(const FacetTable<Value>& table, const Posterior& posterior) {
    boost::container::small_vector<double, 64> sums(table.values.size(), 0.0);
    for (const auto k : posterior.contenders()) {
        sums[table.of_class[k]] += posterior.probabilities()[k];
    }
    const auto best = std::ranges::max_element(sums);
    return {table.values[static_cast<std::size_t>(best - sums.begin())], std::min(*best, 1.0)};
}

// The first `count` of: the contenders by probability, then those that are out, in the library's
// order.
void rank(std::vector<std::size_t>& ranking, const Posterior& posterior, std::size_t count) {
    const auto probabilities = posterior.probabilities();
    const auto contenders = posterior.contenders();
    ranking.assign(contenders.begin(), contenders.end());
    const auto more_probable = [&](std::size_t one, std::size_t other) {
        if (probabilities[one] != probabilities[other]) {
            return probabilities[one] > probabilities[other];
        }
        return one < other;
    };
    const auto sorted = std::min(count, ranking.size());
    std::ranges::partial_sort(ranking, ranking.begin() + static_cast<std::ptrdiff_t>(sorted),
                              more_probable);
    for (std::size_t k = 0; k < probabilities.size() && ranking.size() < count; ++k) {
        if (probabilities[k] == 0.0) ranking.push_back(k);
    }
    if (ranking.size() > count) ranking.resize(count);
}

}  // namespace

Result<void> check_library(const PreparedLibrary& library) {
    if (library.unlisted() < library.size()) return {};
    return problem(
        "library",
        library.size() == 0
            ? "there is no class in it, so nothing can be said of any coil"
            : "the class 'unlisted' is missing in it, so nothing can be said of any coil",
        "the classes of a backup or of a new catalogue: 'coilbook export classes' there, 'coilbook "
        "import classes' here");
}

Identifier::Identifier(const PreparedLibrary& library, const Instruments& instruments)
    : library_(library), instruments_(instruments), posterior_(library), as_meant_(library) {}

Result<Verdict> Identifier::verdict_on(const CoilReadings& readings, const Inquiry& inquiry) {
    Verdict verdict;
    const auto given = give_verdict(readings, inquiry, verdict);
    if (!given) return tl::unexpected(given.error());
    return verdict;
}

Result<void> Identifier::give_verdict(const CoilReadings& readings, const Inquiry& inquiry,
                                      Verdict& verdict) {
    if (auto fit = check_library(library_); !fit) return fit;
    const auto evidence = evidence_of(readings, instruments_, inquiry.units);
    if (!evidence) return tl::unexpected(evidence.error());

    const double ln_likelihood = posterior_.take_up(*evidence);
    const auto probabilities = posterior_.probabilities();
    verdict.probabilities.assign(probabilities.begin(), probabilities.end());
    rank(verdict.ranking, posterior_, inquiry.ranked);
    verdict.grain_class = marginal(library_.grain_classes, posterior_);
    verdict.density_grade = marginal(library_.density_grades, posterior_);
    verdict.line_size = marginal(library_.line_sizes, posterior_);
    verdict.family = marginal(library_.families, posterior_);
    verdict.unlisted_probability = probabilities[library_.unlisted()];
    verdict.fishes_like = library_.fishing_like(verdict.best());
    auto outlook = further_readings(readings, *evidence, instruments_, library_, posterior_,
                                    inquiry.question, inquiry.advice, inquiry.units);
    verdict.advice = std::move(outlook.advice);
    verdict.enough = outlook.enough;

    verdict.flags.clear();
    const auto fit = fit_facts(*evidence, inquiry.fished_in);
    verdict.facts = fit.facts;
    auto warnings = contradictions(readings, *evidence, fit);
    if (!warnings.empty()) verdict.flags.push_back(Flag::inconsistent);
    const auto impossible = implausibilities(fit.facts, inquiry.units);
    if (!impossible.empty()) verdict.flags.push_back(Flag::implausible);
    warnings.insert(warnings.end(), impossible.begin(), impossible.end());

    // A mix-up leaves something odd; where nothing is, there is none to look for.
    verdict.mixup.reset();
    if (!warnings.empty() || library_[verdict.best()].family == Family::unlisted) {
        verdict.mixup = unit_mixup(readings, instruments_, ln_likelihood, as_meant_);
    }
    if (verdict.mixup) verdict.flags.push_back(Flag::unit_mixup);
    if (verdict.probabilities[verdict.best()] < unambiguous_from) {
        verdict.flags.push_back(Flag::ambiguous);
    }
    verdict.because.clear();
    if (inquiry.in_words) {
        verdict.because = reasons(readings, library_.classes(), verdict, warnings, inquiry.units);
    }
    return {};
}

Result<Verdict> identify(const CoilReadings& readings, const Instruments& instruments,
                         const ReferenceLibrary& library, const Water& fished_in) {
    const PreparedLibrary prepared(library);
    return Identifier(prepared, instruments).verdict_on(readings, {.fished_in = fished_in});
}

}  // namespace coilbook
