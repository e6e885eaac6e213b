#include "identify/alike.h"

#include <Eigen/LU>
#include <cmath>

#include "identify/gaussian2.h"

namespace coilbook {

double overlap(const LineDistribution& one, const LineDistribution& other) {
    const auto p = gaussian_of(one);
    const auto q = gaussian_of(other);
    const Eigen::Matrix2d middle = 0.5 * (p.covariance + q.covariance);
    const Eigen::Vector2d off = p.mean - q.mean;
    const double distance = off.dot(middle.inverse() * off) / 8.0;
    const double shapes = std::sqrt(p.covariance.determinant() * q.covariance.determinant());
    return std::exp(-distance) * std::sqrt(shapes / middle.determinant());
}

double distance(const LineDistribution& one, const LineDistribution& other) {
    const auto p = gaussian_of(one);
    const auto q = gaussian_of(other);
    const Eigen::Matrix2d both = p.covariance + q.covariance;
    const Eigen::Vector2d off = p.mean - q.mean;
    return std::sqrt(off.dot(both.inverse() * off));
}

std::vector<std::size_t> fishing_like(std::size_t index, const ReferenceLibrary& library) {
    std::vector<std::size_t> alike;
    if (library[index].family == Family::unlisted) return alike;
    for (std::size_t k = 0; k < library.size(); ++k) {
        const bool other_line = k != index && library[k].family != Family::unlisted;
        if (other_line && overlap(library[index].line, library[k].line) >= alike_from) {
            alike.push_back(k);
        }
    }
    return alike;
}

}  // namespace coilbook
