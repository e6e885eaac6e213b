#include "identify/line_information.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

namespace coilbook {
namespace {

// Where the straightening starts, and what holds on to a direction that no reading touches: an
// ordinary line, give or take a hundred in the logarithm, which moves nothing that was read.
const Gaussian2 any_line{LinePoint(std::log(8.0), std::log(2.5)),
                         1e4 * Eigen::Matrix2d::Identity()};

// Of the larger eigenvalue: what is below is rounding, not a reading.
constexpr double smallest_eigenvalue_part = 1e-12;

double off_fit(const LinePoint& point, const LineInformation& straight, const Evidence& evidence) {
    const auto drop = evidence.drop_residual(point);
    if (!drop.possible) return std::numeric_limits<double>::infinity();
    return 0.5 * point.dot(straight.precision * point) - straight.pull.dot(point) +
           0.5 * drop.value * drop.value;
}

// The best fitting point by Gauss–Newton with halved steps.
LinePoint best_fit(const LineInformation& straight, const Evidence& evidence) {
    LinePoint point = any_line.mean;
    double off = off_fit(point, straight, evidence);
    for (int round = 0; round < 50; ++round) {
        const auto drop = evidence.drop_residual(point);
        if (!drop.possible) break;
        const Eigen::Matrix2d precision = straight.precision + drop.slope.transpose() * drop.slope;
        const Eigen::Vector2d step =
            precision.inverse() *
            (straight.pull - straight.precision * point - drop.slope.transpose() * drop.value);
        double length = 1.0;
        while (length > 1e-6 && !(off_fit(point + length * step, straight, evidence) < off)) {
            length *= 0.5;
        }
        if (!(length > 1e-6)) break;
        point += length * step;
        const double gain = off - off_fit(point, straight, evidence);
        off -= gain;
        if (gain < 1e-13) break;
    }
    return point;
}

}  // namespace

LineInformation& LineInformation::operator+=(const LineInformation& other) {
    precision += other.precision;
    pull += other.pull;
    return *this;
}

LineInformation information_of(const Gaussian2& known) {
    LineInformation line;
    line.precision = known.covariance.inverse();
    line.pull = line.precision * known.mean;
    return line;
}

LineInformation information_of(const Evidence& evidence) {
    const auto a = evidence.straight.a.topRows(evidence.straight.rows);
    LineInformation line;
    line.precision = a.transpose() * a;
    line.pull = a.transpose() * evidence.straight.b.head(evidence.straight.rows);
    if (!evidence.drop) return line;
    auto held = line;
    held += information_of(any_line);
    const LinePoint point = best_fit(held, evidence);
    const auto drop = evidence.drop_residual(point);
    if (!drop.possible) return line;
    line.precision += drop.slope.transpose() * drop.slope;
    line.pull += drop.slope.transpose() * (drop.slope.dot(point) - drop.value);
    return line;
}

UnitReadings unit_readings(const LineInformation& line) {
    UnitReadings readings;
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> directions(line.precision);
    const double largest = std::max(directions.eigenvalues()(1), 0.0);
    for (const int i : {0, 1}) {
        const double size = directions.eigenvalues()(i);
        if (!(size > smallest_eigenvalue_part * largest)) continue;
        const Eigen::Vector2d direction = directions.eigenvectors().col(i);
        readings.b.row(readings.rows) = std::sqrt(size) * direction.transpose();
        readings.z(readings.rows) = direction.dot(line.pull) / std::sqrt(size);
        ++readings.rows;
    }
    return readings;
}

Misfit misfit(const LineInformation& line, const Gaussian2& foretold) {
    const auto readings = unit_readings(line);
    if (readings.rows == 0) return {};
    // Rows that are not there have b = 0 and z = 0, and so add 1 to the diagonal and nothing else.
    const Eigen::Matrix2d spread =
        Eigen::Matrix2d::Identity() + readings.b * foretold.covariance * readings.b.transpose();
    const Eigen::Vector2d off = readings.z - readings.b * foretold.mean;
    return {off.dot(spread.inverse() * off), readings.rows, 0.5 * std::log(spread.determinant())};
}

double ln_marginal(const LineInformation& line, const Gaussian2& prior) {
    const auto off = misfit(line, prior);
    return -0.5 * off.squared - off.ln_shrink;
}

}  // namespace coilbook
