// First-order propagation of uncertainty that keeps correlations.
//
// Quantities that come from the same reading are wrong together: weight per foot and density share
// the sample's weight and length. So values travel as a vector with a covariance matrix, and a
// derived vector gets J V J^T (GUM, JCGM 100:2008, 5.2.2, and JCGM 102:2011, 6.2 for several
// outputs). First order: good while the function is nearly straight over one standard uncertainty.
#pragma once

#include <Eigen/Core>
#include <functional>

namespace coilbook {

// Several values and how they are wrong together. Entries may have different units; they are all
// SI. `covariance` is square, symmetric and positive semidefinite, of the size of `value`.
struct CorrelatedValues {
    Eigen::VectorXd value;
    Eigen::MatrixXd covariance;

    [[nodiscard]] double uncertainty(Eigen::Index i) const;
    // In -1 … 1; 0 where one of the two is exact.
    [[nodiscard]] double correlation(Eigen::Index i, Eigen::Index j) const;
};

// `function` applied to `inputs`, with the covariance of its results. The Jacobian is taken by
// central differences over a small part of each input's own standard uncertainty, so exact inputs
// cost nothing. REQUIRES: `function` defined within one standard uncertainty around the inputs.
[[nodiscard]] CorrelatedValues propagate(
    const CorrelatedValues& inputs,
    const std::function<Eigen::VectorXd(const Eigen::VectorXd&)>& function);

}  // namespace coilbook
