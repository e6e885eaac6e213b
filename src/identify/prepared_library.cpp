#include "identify/prepared_library.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cassert>
#include <cmath>

#include "identify/alike.h"
#include "identify/posterior.h"
#include "identify/tidings.h"

namespace coilbook {
namespace {

template <class Value>
FacetTable<Value> table_of(const ReferenceLibrary& library,
                           std::optional<Value> ReferenceClass::*facet) {
    FacetTable<Value> table;
    for (const auto& reference : library) {
        auto known = std::ranges::find(table.values, reference.*facet);
        if (known == table.values.end()) {
            known = table.values.insert(table.values.end(), reference.*facet);
        }
        table.of_class.push_back(static_cast<std::uint16_t>(known - table.values.begin()));
    }
    return table;
}

ResultTable with_entropy(std::vector<double> results) {
    const double entropy = entropy_of(results);
    return {std::move(results), entropy};
}

// By the density in the middle of each cell.
ResultTable length_results_of(const std::optional<UsualLengths>& usual) {
    std::vector<double> results(PreparedLibrary::length_cells);
    const double width = std::log(150.0) / static_cast<double>(results.size());
    double sum = 0.0;
    for (std::size_t i = 0; i < results.size(); ++i) {
        const Length length = std::exp((static_cast<double>(i) + 0.5) * width) * foot;
        results[i] = length_density(length, usual);
        sum += results[i];
    }
    for (double& result : results) result /= sum;
    return with_entropy(std::move(results));
}

double total_weight(const ReferenceLibrary& library) {
    double total = 0.0;
    for (const auto& reference : library) total += reference.weight;
    return total;
}

}  // namespace

std::array<ScaledNormal, 12> student_as_normals(double degrees_of_freedom) {
    assert(degrees_of_freedom > 2.0);
    constexpr int count = 12;
    const double alpha = 0.5 * degrees_of_freedom - 1.0;
    Eigen::Matrix<double, count, count> recurrence = Eigen::Matrix<double, count, count>::Zero();
    for (int i = 0; i < count; ++i) {
        recurrence(i, i) = 2.0 * i + 1.0 + alpha;
        if (i > 0) recurrence(i, i - 1) = recurrence(i - 1, i) = std::sqrt(i * (i + alpha));
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, count, count>> solved(recurrence);
    std::array<ScaledNormal, count> normals{};
    for (int i = 0; i < count; ++i) {
        const double first = solved.eigenvectors()(0, i);
        normals[static_cast<std::size_t>(i)] = {
            first * first, solved.eigenvalues()(i) / (0.5 * degrees_of_freedom)};
    }
    return normals;
}

Gaussian2 PreparedLibrary::Components::gaussian(std::size_t c) const {
    Gaussian2 result;
    result.mean << mean_x[c], mean_y[c];
    result.covariance << var_x[c], cov_xy[c], cov_xy[c], var_y[c];
    return result;
}

PreparedLibrary::PreparedLibrary(ReferenceLibrary library)
    : grain_classes(table_of(library, &ReferenceClass::grain_class)),
      density_grades(table_of(library, &ReferenceClass::density_grade)),
      line_sizes(table_of(library, &ReferenceClass::line_size)),
      families(table_of(library, &ReferenceClass::family)),
      library_(std::move(library)),
      unlisted_(library_.size()) {
    const double total = total_weight(library_);
    const auto add = [&](std::size_t owner, const Gaussian2& normal, double share) {
        components_.owner.push_back(static_cast<std::uint32_t>(owner));
        components_.mean_x.push_back(normal.mean.x());
        components_.mean_y.push_back(normal.mean.y());
        components_.var_x.push_back(normal.covariance(0, 0));
        components_.cov_xy.push_back(normal.covariance(0, 1));
        components_.var_y.push_back(normal.covariance(1, 1));
        components_.ln_share.push_back(std::log(share * library_[owner].weight / total));
    };
    for (std::size_t k = 0; k < library_.size(); ++k) {
        const auto& reference = library_[k];
        if (reference.family == Family::unlisted) unlisted_ = k;
        first_.push_back(components_.size());
        const auto normal = gaussian_of(reference.line);
        if (const auto nu = reference.line.degrees_of_freedom) {
            for (const auto& [share, precision] : student_as_normals(*nu)) {
                add(k, {normal.mean, normal.covariance * ((*nu - 2.0) / *nu / precision)}, share);
            }
        } else {
            add(k, normal, 1.0);
        }
        tint_results_.push_back(with_entropy({reference.tints.begin(), reference.tints.end()}));
        taper_results_.push_back(with_entropy({reference.tapered, 1.0 - reference.tapered}));
        auto group = std::ranges::find(length_groups_, reference.usual);
        if (group == length_groups_.end()) {
            group = length_groups_.insert(length_groups_.end(), reference.usual);
        }
        length_group_.push_back(static_cast<std::size_t>(group - length_groups_.begin()));
        fishing_like_.push_back(coilbook::fishing_like(k, library_));
    }
    first_.push_back(components_.size());
    for (const auto& usual : length_groups_) length_results_.push_back(length_results_of(usual));
    for (const auto& one : length_results_) {
        for (const auto& other : length_results_) {
            length_closeness_.push_back(closeness(one.results, other.results));
        }
    }
}

}  // namespace coilbook
