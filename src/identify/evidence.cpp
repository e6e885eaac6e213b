#include "identify/evidence.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "identify/coarse.h"
#include "identify/error_budget.h"
#include "identify/refusals.h"
#include "metrology/measured.h"

namespace coilbook {
namespace {

const double ln_root_two_pi = 0.5 * std::log(2.0 * std::numbers::pi);

Result<Water> bucket_of(const CoilReadings& readings) {
    if (readings.water_temperature) return water_at(readings.water_temperature->value);
    return fresh_water_at_10_C();
}

DropEvidence drop_of(const CoilReadings& readings, const BenchInstruments& instruments,
                     const Water& water) {
    const Speed rate = less_offset<Length>(*readings.sink_distance, instruments.tape) /
                       less_offset<Duration>(*readings.sink_time, instruments.stopwatch);
    TemperatureDifference temperature = unread_temperature_uncertainty;
    if (readings.water_temperature) {
        temperature = readings.water_temperature->uncertainty.value_or(root_sum_square(
            own_uncertainty(instruments.thermometer), shared_uncertainty(instruments.thermometer)));
    }
    const double level = relative_variance<Length>(*readings.sink_distance, instruments.tape) +
                         std::pow(ln_sink_rate_per_kelvin * temperature.kelvin(), 2);
    const double time = relative_variance<Duration>(*readings.sink_time, instruments.stopwatch);
    // The drag law's uncertainty changes slowly with the Reynolds number, so a guess of the
    // diameter serves where none was read.
    const Length diameter =
        readings.diameters.empty() ? 0.8 * millimetre : mean_diameter(readings).mean;
    const double reynolds = rate * diameter / kinematic_viscosity(water);
    return {std::log(rate.si()), std::sqrt(time), std::sqrt(level),
            sink_rate_model_uncertainty(reynolds), water};
}

// Takes the rows that are there to independent unit errors: the Cholesky factor L of their
// covariance solves L w = b − A θ from the top.
struct Whitening {
    std::array<Eigen::Index, row_count> rows{};
    int count = 0;
    Eigen::Matrix4d lower = Eigen::Matrix4d::Identity();

    Whitening(const StraightReadings& straight, const Eigen::Matrix4d& covariance) {
        for (std::size_t row = 0; row < row_count; ++row) {
            if (straight.has[row])
                rows[static_cast<std::size_t>(count++)] = static_cast<Eigen::Index>(row);
        }
        for (int i = 0; i < count; ++i) {
            for (int j = 0; j <= i; ++j) {
                double sum = covariance(at(i), at(j));
                for (int k = 0; k < j; ++k) sum -= lower(i, k) * lower(j, k);
                lower(i, j) = i == j ? std::sqrt(sum) : sum / lower(j, j);
            }
        }
    }
    [[nodiscard]] Eigen::Index at(int i) const { return rows[static_cast<std::size_t>(i)]; }
    template <int Columns>
    [[nodiscard]] Eigen::Matrix<double, 4, Columns> white(
        const Eigen::Matrix<double, 4, Columns>& all) const {
        Eigen::Matrix<double, 4, Columns> result = Eigen::Matrix<double, 4, Columns>::Zero();
        for (int i = 0; i < count; ++i) {
            result.row(i) = all.row(at(i));
            for (int k = 0; k < i; ++k) result.row(i) -= lower(i, k) * result.row(k);
            result.row(i) /= lower(i, i);
        }
        return result;
    }
    [[nodiscard]] double ln_norm() const {
        double norm = 0.0;
        for (int i = 0; i < count; ++i) norm -= std::log(lower(i, i)) + ln_root_two_pi;
        return norm;
    }
};

// The rows A θ = b brought down to two, R θ = Qᵀ b, by orthogonalising A's columns in turn. What b
// has outside of them is the readings' quarrel among themselves, the same for every θ.
class TwoRows {
  public:
    explicit TwoRows(const Eigen::Matrix<double, 4, 2>& a) {
        const double whole = a.col(1).norm();
        r_(0, 0) = a.col(0).norm();
        if (r_(0, 0) > 0.0) q_.col(0) = a.col(0) / r_(0, 0);
        r_(0, 1) = q_.col(0).dot(a.col(1));
        const Eigen::Vector4d rest = a.col(1) - r_(0, 1) * q_.col(0);
        r_(1, 1) = rest.norm();
        if (r_(1, 1) > 1e-9 * whole) {
            q_.col(1) = rest / r_(1, 1);
        } else {
            r_(1, 1) = 0.0;
        }
    }
    [[nodiscard]] const Eigen::Matrix2d& r() const { return r_; }
    [[nodiscard]] Bell bell(const Eigen::Vector4d& b, double ln_share) const {
        const Eigen::Vector2d inside = q_.transpose() * b;
        return {inside, ln_share - 0.5 * (b - q_ * inside).squaredNorm()};
    }

  private:
    Eigen::Matrix<double, 4, 2> q_ = Eigen::Matrix<double, 4, 2>::Zero();
    Eigen::Matrix2d r_ = Eigen::Matrix2d::Zero();
};

// Rectangles kept: one bell for each possibility that the coarse errors leave. The rows' values are
// logarithms of readings, so that equal shares of a reading are not equal shares of its logarithm:
// hence the volume ratio (w / w') …, relative to the readings as they are.
std::vector<Bell> coarse_bells(const StraightReadings& straight,
                               const std::vector<Possibility>& possibilities,
                               const Whitening& whitening, const TwoRows& two_rows) {
    const auto ln_volume = [&](const ReadVector& read) {
        const auto ln_of = [&](Read which) { return std::log(read(static_cast<int>(which))); };
        double ln = 0.0;
        if (straight.has_row(Row::sample)) ln += ln_of(Read::in_air);
        if (straight.has_row(Row::whole)) ln += ln_of(Read::whole_weight);
        if (straight.has_row(Row::diameter)) ln += ln_of(Read::diameter);
        if (straight.has_row(Row::displaced)) {
            ln += std::log(read(static_cast<int>(Read::in_air)) -
                           read(static_cast<int>(Read::in_water)));
        }
        return ln;
    };
    const double ln_as_read = ln_volume(straight.read);
    std::vector<Bell> bells;
    bells.reserve(possibilities.size());
    for (const auto& possibility : possibilities) {
        const ReadVector read = straight.read - possibility.errors;
        const auto values = row_values(straight, read);
        if (!values) continue;  // no line has such readings
        const double ln_ratio =
            std::isfinite(ln_as_read) ? ln_as_read - ln_volume(read) : -ln_volume(read);
        bells.push_back(two_rows.bell(whitening.white<1>(*values),
                                      possibility.ln_share + ln_ratio + whitening.ln_norm()));
    }
    return bells;
}

// With rectangles as rectangles, where an instrument is so coarse; else nothing is added.
void add_coarse_bells(const StraightReadings& straight,
                      const Eigen::Matrix<double, 4, 6>& derivatives, Bells& bells) {
    auto coarse = coarse_sources(straight, derivatives);
    while (coarse != 0) {
        const auto covariance = row_covariance(straight, derivatives, coarse);
        const auto each =
            possibilities(straight, derivatives, covariance.diagonal().cwiseSqrt(), coarse);
        if (each.empty()) {
            coarse = without_the_narrowest(coarse, straight, derivatives);
            continue;
        }
        const Whitening whitening(straight, covariance);
        const TwoRows two_rows(whitening.white<2>(row_coefficients()));
        bells.r = two_rows.r();
        bells.many = coarse_bells(straight, each, whitening, two_rows);
        return;
    }
}

enum class Views { both, straight };

// The views of the straight readings.
void weigh_up(StraightReadings straight, Views views, Evidence& evidence) {
    const auto derivatives = row_derivatives(straight);
    if (views == Views::both) add_coarse_bells(straight, derivatives, evidence.bells);

    // With all errors as bells. A piece that weighs no less in water than in air displaces nothing
    // that could be weighed.
    auto values = row_values(straight, straight.read);
    if (!values) {
        straight.has[static_cast<std::size_t>(Row::displaced)] = false;
        values = row_values(straight, straight.read);
    }
    const Whitening whitening(straight, row_covariance(straight, derivatives, 0));
    evidence.straight.rows = whitening.count;
    evidence.straight.a = whitening.white<2>(row_coefficients());
    evidence.straight.b = whitening.white<1>(*values);
    if (views == Views::both && evidence.bells.many.empty()) {
        const TwoRows two_rows(evidence.straight.a);
        evidence.bells.r = two_rows.r();
        evidence.bells.one = two_rows.bell(evidence.straight.b, whitening.ln_norm());
    }
}

Result<Evidence> weighed_up(const CoilReadings& readings, const Instruments& instruments,
                            Views views, const Units& units = grains_and_feet) {
    const auto bench = bench_instruments(readings, instruments);
    if (!bench) return tl::unexpected(bench.error());
    const auto bucket = bucket_of(readings);
    if (!bucket) return tl::unexpected(bucket.error());
    if (auto refused = first_refusal(readings, *bench, units))
        return tl::unexpected(std::move(*refused));

    Evidence evidence;
    evidence.tint = readings.tint;
    evidence.taper = readings.taper;
    evidence.floats = readings.floats;
    evidence.water = *bucket;
    if (readings.whole_length) evidence.whole_length = readings.whole_length->value;
    weigh_up(straight_readings(readings, bench->scale, bench->tape, bench->micrometer, *bucket),
             views, evidence);
    if (readings.sink_distance && readings.sink_time) {
        evidence.drop = drop_of(readings, *bench, *bucket);
    }
    return evidence;
}

}  // namespace

std::optional<WeighedPiece> weighed_sample(const CoilReadings& readings) {
    if (!readings.sample_weight || !readings.sample_length) return std::nullopt;
    return WeighedPiece{*readings.sample_weight, *readings.sample_length};
}

std::optional<WeighedPiece> weighed_whole(const CoilReadings& readings) {
    if (!readings.whole_weight || !readings.whole_length) return std::nullopt;
    return WeighedPiece{*readings.whole_weight, *readings.whole_length};
}

MeanDiameter mean_diameter(const CoilReadings& readings) {
    Length sum;
    for (const auto& reading : readings.diameters) sum += reading.value;
    const Length mean = sum / static_cast<double>(readings.diameters.size());
    const auto [low, high] = std::ranges::minmax(readings.diameters, {}, &Stated<Length>::value);
    return {mean, (high.value - low.value) / mean};
}

// In parts of the time read: the line would take e^(ln_rate − ln v), with the watch's error and, in
// parts of itself, the others'.
DropResidual Evidence::drop_residual(const LinePoint& point) const {
    if (!is_conceivable(point) || point.y() <= drop->rates.ln_water_density()) {
        DropResidual residual;
        residual.possible = false;
        return residual;
    }
    const auto rate = drop->rates.at(point);
    const double time = std::exp(std::min(drop->ln_rate - rate.value, 300.0));
    const double level = drop->level_sd * drop->level_sd + drop->drag_sd * drop->drag_sd;
    const double variance = drop->time_sd * drop->time_sd + time * time * level;
    const double sd = std::sqrt(variance);
    return {(1.0 - time) / sd, time / sd * rate.slope, -0.5 * std::log(variance) - ln_root_two_pi};
}

Result<Evidence> evidence_of(const CoilReadings& readings, const Instruments& instruments,
                             const Units& units) {
    return weighed_up(readings, instruments, Views::both, units);
}

Result<Evidence> straight_evidence_of(const CoilReadings& readings,
                                      const Instruments& instruments) {
    return weighed_up(readings, instruments, Views::straight);
}

}  // namespace coilbook
