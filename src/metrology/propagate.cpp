#include "metrology/propagate.h"

#include <cassert>
#include <cmath>

namespace coilbook {
namespace {

// Part of a standard uncertainty over which the slope is taken: small enough that curvature does
// not enter (error of the order of its square), large enough that rounding does not.
constexpr double step_of_uncertainty = 1e-3;

}  // namespace

double CorrelatedValues::uncertainty(Eigen::Index i) const {
    return std::sqrt(covariance(i, i));
}

double CorrelatedValues::correlation(Eigen::Index i, Eigen::Index j) const {
    const double scale = uncertainty(i) * uncertainty(j);
    return scale > 0.0 ? covariance(i, j) / scale : 0.0;
}

CorrelatedValues propagate(const CorrelatedValues& inputs,
                           const std::function<Eigen::VectorXd(const Eigen::VectorXd&)>& function) {
    const auto count = inputs.value.size();
    assert(inputs.covariance.rows() == count && inputs.covariance.cols() == count);
    const Eigen::VectorXd center = function(inputs.value);
    Eigen::MatrixXd jacobian = Eigen::MatrixXd::Zero(center.size(), count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const double step = step_of_uncertainty * inputs.uncertainty(i);
        if (!(step > 0.0)) continue;
        Eigen::VectorXd moved = inputs.value;
        moved(i) = inputs.value(i) + step;
        const Eigen::VectorXd above = function(moved);
        moved(i) = inputs.value(i) - step;
        jacobian.col(i) = (above - function(moved)) / (2.0 * step);
    }
    return {center, jacobian * inputs.covariance * jacobian.transpose()};
}

}  // namespace coilbook
