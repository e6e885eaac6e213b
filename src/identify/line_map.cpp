#include "identify/line_map.h"

namespace coilbook {

Gaussian2 over_diameter_and_weight(const LineDistribution& line) {
    const Gaussian2 gaussian = gaussian_of(line);
    Eigen::Matrix2d map;
    map.row(0) = ln_diameter_row();
    map.row(1) = Eigen::RowVector2d(1.0, 0.0);
    return {map * gaussian.mean + Eigen::Vector2d(ln_diameter_constant(), 0.0),
            map * gaussian.covariance * map.transpose()};
}

}  // namespace coilbook
