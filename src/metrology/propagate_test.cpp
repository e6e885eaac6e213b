#include "metrology/propagate.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;

namespace {

// Means and their covariance from simultaneous readings, one row a set.
CorrelatedValues from_readings(const Eigen::MatrixXd& readings) {
    const double n = static_cast<double>(readings.rows());
    const Eigen::VectorXd mean = readings.colwise().mean();
    const Eigen::MatrixXd spread = readings.rowwise() - mean.transpose();
    return {mean, spread.transpose() * spread / (n * (n - 1.0))};
}

}  // namespace

TEST_SUITE("Propagation of uncertainty") {
    // Source: GUM (JCGM 100:2008), annex H.2: resistance and reactance from voltage, current and
    // phase. Published: R 127.732 (0.071), X 219.847 (0.295), Z 254.260 (0.236); the further
    // figures were recomputed from the published readings with numpy. Readings and results as two
    // public metrology test suites give them.
    TEST_CASE("the GUM's example H.2 keeps the correlation of three results") {
        Eigen::MatrixXd readings(5, 3);
        readings << 5.007, 19.663e-3, 1.0456,  //
            4.994, 19.639e-3, 1.0438,          //
            5.005, 19.640e-3, 1.0468,          //
            4.990, 19.685e-3, 1.0428,          //
            4.999, 19.678e-3, 1.0433;
        const auto result = propagate(from_readings(readings), [](const Eigen::VectorXd& in) {
            const double impedance = in(0) / in(1);
            return Eigen::Vector3d(impedance * std::cos(in(2)), impedance * std::sin(in(2)),
                                   impedance);
        });
        CHECK(near(result.value(0), 127.7321699, 1e-6));
        CHECK(near(result.value(1), 219.8465119, 1e-6));
        CHECK(near(result.value(2), 254.2597019, 1e-6));
        CHECK(near(result.uncertainty(0), 0.0710714, 2e-6));
        CHECK(near(result.uncertainty(1), 0.2955817, 2e-6));
        CHECK(near(result.uncertainty(2), 0.2363361, 2e-6));
        CHECK(near(result.correlation(0, 1), -0.588430, 1e-5));
        CHECK(near(result.correlation(0, 2), -0.485259, 1e-5));
        CHECK(near(result.correlation(1, 2), 0.992512, 1e-5));
    }

    // A closed form: 10.00 ft of 100.0 gr and 1.200 mm, with u 0.01 ft, 0.5 gr and 0.005 mm, are
    // 10 gr/ft and 4 λ / (π d²) = 1879.75117 kg/m3; relative 0.5 %, 0.1 % and 2 x 0.41667 % make
    // 0.976957 % or 18.36436 kg/m3. Both share weight and length, so they are wrong together:
    // covariance (0.005² + 0.001²), correlation 0.0050990/0.00976957 = 0.52193.
    TEST_CASE("weight per foot and density share the sample, so they are wrong together") {
        CorrelatedValues inputs{Eigen::Vector3d((100.0 * grain).si(), (10.0 * foot).si(), 1.2e-3),
                                Eigen::Matrix3d::Zero()};
        inputs.covariance(0, 0) = std::pow((0.5 * grain).si(), 2);
        inputs.covariance(1, 1) = std::pow((0.01 * foot).si(), 2);
        inputs.covariance(2, 2) = std::pow(0.005e-3, 2);
        const auto result = propagate(inputs, [](const Eigen::VectorXd& in) {
            const double linear = in(0) / in(1);
            return Eigen::Vector2d(linear, 4.0 * linear / (std::numbers::pi * in(2) * in(2)));
        });
        CHECK(near(result.value(1), 1879.75117, 1e-4));
        CHECK(near(result.uncertainty(1), 18.36436, 1e-4));
        CHECK(near(result.correlation(0, 1), 0.52193, 1e-4));
    }

    TEST_CASE("an exact input adds no uncertainty") {
        const CorrelatedValues inputs{Eigen::Vector2d(2.0, 3.0), Eigen::Matrix2d::Zero()};
        const auto result = propagate(
            inputs, [](const Eigen::VectorXd& in) { return Eigen::VectorXd(in * in(0)); });
        CHECK(result.value(1) == 6.0);
        CHECK(result.uncertainty(1) == 0.0);
        CHECK(result.correlation(0, 1) == 0.0);
    }
}
