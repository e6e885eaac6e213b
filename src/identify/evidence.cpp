#include "identify/evidence.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "metrology/measured.h"

namespace coilbook {
namespace {

const double ln_root_two_pi = 0.5 * std::log(2.0 * std::numbers::pi);

// One reading with its two kinds of error. A stated uncertainty is the person's word for all of it.
template <class Q>
struct Errors {
    Q value;
    Q own;
    Q shared;
};

template <class Q>
Errors<Q> errors_of(const Stated<Q>& stated, const Instrument<Q>& instrument) {
    if (stated.uncertainty) return {stated.value, *stated.uncertainty, Q{}};
    return {stated.value - instrument.offset, own_uncertainty(instrument),
            shared_uncertainty(instrument)};
}

// A reading that somebody states to be exact is taken as good to a part in ten thousand.
constexpr double exactness_floor = 1e-8;

// Above this a logarithm is no longer straight enough for first-order uncertainties.
constexpr double most_relative_uncertainty = 0.5;

double square(double number) {
    return number * number;
}

// Square of the relative standard uncertainty, own and shared together.
template <class Q>
double relative_variance(const Errors<Q>& e) {
    return square(e.own / e.value) + square(e.shared / e.value);
}

// The weighings of one coil as they are read: sample in air, whole coil, sample under water.
struct Weighings {
    struct Piece {
        Errors<Mass> weight;
        Errors<Length> length;
    };
    std::optional<Piece> sample, whole;
    std::optional<Errors<Mass>> submerged;
};

Weighings weighings_of(const CoilReadings& readings, const Scale& scale, const Tape& tape) {
    const auto piece = [&](const std::optional<WeighedPiece>& weighed) {
        std::optional<Weighings::Piece> result;
        if (weighed) {
            result = {errors_of<Mass>(weighed->weight, scale),
                      errors_of<Length>(weighed->length, tape)};
        }
        return result;
    };
    Weighings weighings{piece(weighed_sample(readings)), piece(weighed_whole(readings)), {}};
    if (readings.submerged_weight && readings.sample_weight) {
        weighings.submerged = errors_of<Mass>(*readings.submerged_weight, scale);
    }
    return weighings;
}

// Straight and coupled readings with the joint covariance of their errors, before whitening. The
// order is: sample, whole, diameter, submerged ratio; `ratio_row` is the last one's index or -1.
struct Joint {
    int count = 0;
    Eigen::Matrix<double, 4, 2> a = Eigen::Matrix<double, 4, 2>::Zero();
    Eigen::Vector4d b = Eigen::Vector4d::Zero();
    Eigen::Matrix4d covariance = Eigen::Matrix4d::Zero();

    int add(const Eigen::RowVector2d& row, double value, double variance) {
        a.row(count) = row;
        b(count) = value;
        covariance(count, count) = std::max(variance, exactness_floor);
        return count++;
    }
    void couple(int i, int j, double value) { covariance(i, j) = covariance(j, i) = value; }
};

double ln_weight_per_length(const Weighings::Piece& piece) {
    return std::log((piece.weight.value / piece.length.value).in(grain_per_foot));
}

// ln(W_1/ℓ_1) and ln(W_2/ℓ_2) by one scale and one tape are wrong together.
double shared_covariance(const Weighings::Piece& one, const Weighings::Piece& other) {
    return (one.weight.shared / one.weight.value) * (other.weight.shared / other.weight.value) +
           (one.length.shared / one.length.value) * (other.length.shared / other.length.value);
}

// W_sub/W = r, with errors e_sub of the one weighing and e of the other, has the error
// (e_sub − r e) / W. Where both are by one scale, e_sub and e share their calibration.
struct RatioError {
    double variance;
    double with_sample;  // covariance with the error of the sample's ln(W/ℓ)
};

RatioError ratio_error(const Errors<Mass>& in_air, const Errors<Mass>& in_water) {
    const double r = in_water.value / in_air.value;
    const double air = square(in_air.own / in_air.value) + square(in_air.shared / in_air.value);
    const double water =
        square(in_water.own / in_air.value) + square(in_water.shared / in_air.value);
    const double common = (in_air.shared / in_air.value) * (in_water.shared / in_air.value);
    return {water + r * r * air - 2.0 * r * common, common - r * air};
}

double diameter_variance(const CoilReadings& readings, const Micrometer& micrometer) {
    const auto mean = mean_diameter(readings).mean;
    const double n = static_cast<double>(readings.diameters.size());
    double own = 0.0;      // variance of one reading, from the instrument or as stated
    double scatter = 0.0;  // sum of squares about the mean
    bool any_by_instrument = false;
    for (const auto& reading : readings.diameters) {
        const auto errors = errors_of<Length>(reading, micrometer);
        own += square(errors.own / mean) / n;
        scatter += square((reading.value - mean) / mean);
        any_by_instrument = any_by_instrument || !reading.uncertainty;
    }
    // Coatings are not even: where the readings scatter more than the instrument explains, the
    // scatter counts (a type A evaluation, GUM 4.2).
    if (n > 1.0) own = std::max(own, scatter / (n - 1.0));
    double shared = 0.0;
    if (any_by_instrument) {
        shared =
            square(shared_uncertainty(micrometer) / mean) + square(soft_coating_uncertainty / mean);
    }
    const bool tapered = readings.taper == Taper::tapered;
    return own / n + shared + (tapered ? square(tapered_diameter_sd) / n : 0.0);
}

// See tapered_sample_sd.
double tapered_variance(const CoilReadings& readings) {
    if (readings.taper != Taper::tapered) return 0.0;
    const Length whole = readings.whole_length ? readings.whole_length->value : usual_tip;
    const double missing = std::max(0.1, 1.0 - readings.sample_length->value / whole);
    return square(missing * tapered_sample_sd);
}

// Refuses a reading that nothing sensible is left of.
template <class Q>
std::optional<Problem> refusal(const std::optional<Stated<Q>>& stated,
                               const Instrument<Q>& instrument, const char* field) {
    if (!stated) return std::nullopt;
    const auto errors = errors_of<Q>(*stated, instrument);
    if (errors.value <= Q{}) {
        return Problem{field, "it is not above its instrument's offset",
                       "a reading above the offset that the instrument is known to have"};
    }
    if (relative_variance(errors) > square(most_relative_uncertainty)) {
        return Problem{field, "its uncertainty is more than half of it",
                       "a larger piece, a finer instrument or a smaller stated uncertainty"};
    }
    return std::nullopt;
}

std::optional<Problem> refusal_of_piece(const std::optional<WeighedPiece>& piece,
                                        const char* field) {
    if (!piece) return std::nullopt;
    const LinearDensity line = piece->weight.value / piece->length.value;
    if (line >= lightest_conceivable_line && line <= heaviest_conceivable_line) return std::nullopt;
    return Problem{field, "weight and length together are no line's", "0.001 to 10000 gr/ft"};
}

// The first reading, or pair of readings, that cannot be weighed up.
std::optional<Problem> first_refusal(const CoilReadings& readings, const Scale& scale,
                                     const Tape& tape, const Micrometer& micrometer,
                                     const Stopwatch& stopwatch) {
    std::optional<Problem> found;
    const auto look = [&](const std::optional<Problem>& refused) {
        if (!found) found = refused;
    };
    look(refusal<Mass>(readings.sample_weight, scale, "sample_weight"));
    look(refusal<Length>(readings.sample_length, tape, "sample_length"));
    look(refusal<Mass>(readings.whole_weight, scale, "whole_weight"));
    look(refusal<Length>(readings.whole_length, tape, "whole_length"));
    look(refusal<Length>(readings.sink_distance, tape, "sink_distance"));
    look(refusal<Duration>(readings.sink_time, stopwatch, "sink_time"));
    for (const auto& diameter : readings.diameters) {
        look(refusal<Length>(diameter, micrometer, "diameters"));
    }
    look(refusal_of_piece(weighed_sample(readings), "sample_weight"));
    look(refusal_of_piece(weighed_whole(readings), "whole_weight"));
    if (readings.submerged_weight && readings.sample_weight &&
        readings.submerged_weight->value > 2.0 * readings.sample_weight->value) {
        look(Problem{"submerged_weight", "it is far above the weight in air",
                     "less than sample_weight"});
    }
    if (readings.sink_distance && readings.sink_time) {
        const Speed rate = readings.sink_distance->value / readings.sink_time->value;
        if (rate < slowest_conceivable_drop || rate > fastest_conceivable_drop) {
            look(Problem{"sink_time", "distance and time together are no line's sink rate",
                         "0.005 to 200 in/s"});
        }
    }
    if (readings.water_temperature && readings.water_temperature->uncertainty &&
        readings.water_temperature->uncertainty->kelvin() > 20.0) {
        look(Problem{"water_temperature", "its stated uncertainty is too large to mean anything",
                     "at most 20 C"});
    }
    return found;
}

Temperature bucket_temperature(const CoilReadings& readings) {
    return readings.water_temperature ? readings.water_temperature->value
                                      : Temperature::from_celsius(10.0);
}

DropEvidence drop_of(const CoilReadings& readings, const Tape& tape, const Stopwatch& stopwatch,
                     const Thermometer& thermometer, const Water& water) {
    const auto distance = errors_of<Length>(*readings.sink_distance, tape);
    const auto time = errors_of<Duration>(*readings.sink_time, stopwatch);
    const Speed rate = distance.value / time.value;
    TemperatureDifference temperature = unread_temperature_uncertainty;
    if (readings.water_temperature) {
        temperature = readings.water_temperature->uncertainty.value_or(
            root_sum_square(own_uncertainty(thermometer), shared_uncertainty(thermometer)));
    }
    const double variance = relative_variance(distance) + relative_variance(time) +
                            square(ln_sink_rate_per_kelvin * temperature.kelvin());
    // The drag law's uncertainty changes slowly with the Reynolds number, so a guess of the
    // diameter serves where none was read.
    const Length diameter =
        readings.diameters.empty() ? 0.8 * millimetre : mean_diameter(readings).mean;
    const double reynolds = rate * diameter / kinematic_viscosity(water);
    return {std::log(rate.si()), std::sqrt(variance), sink_rate_model_uncertainty(reynolds), water};
}

// Splits the joint normal errors into independent unit ones, in the order of the rows: the Cholesky
// factor L of the covariance solves L w = b − A θ from the top.
void whiten(const Joint& joint, bool has_ratio, Density water_density, Evidence& evidence) {
    const int n = joint.count;
    if (n == 0) return;
    Eigen::Matrix4d lower = joint.covariance;
    for (int i = n; i < 4; ++i) lower(i, i) = 1.0;
    lower = lower.llt().matrixL();
    Eigen::Matrix<double, 4, 3> rows;  // (A | b) whitened
    rows << joint.a, joint.b;
    const int straight = has_ratio ? n - 1 : n;
    const auto top = lower.topLeftCorner(straight, straight).triangularView<Eigen::Lower>();
    if (straight > 0) {
        rows.topRows(straight) = top.solve(rows.topRows(straight)).eval();
    }
    auto& s = evidence.straight;
    s.rows = straight;
    for (int i = 0; i < straight; ++i) {
        s.a.row(i) = rows.row(i).head<2>();
        s.b(i) = rows(i, 2);
        s.ln_norm -= std::log(lower(i, i)) + ln_root_two_pi;
    }
    if (has_ratio) {
        // The ratio's error is L_r · w + its own part, and w = b − A θ for the rows above.
        const int r = n - 1;
        Eigen::Vector3d coupling = Eigen::Vector3d::Zero();
        for (int i = 0; i < straight; ++i) {
            coupling += lower(r, i) * Eigen::Vector3d(-rows(i, 0), -rows(i, 1), rows(i, 2));
        }
        evidence.submerged = SubmergedEvidence{joint.b(r), lower(r, r), water_density, coupling};
    }
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

BentResiduals Evidence::bent_residuals(const LinePoint& point) const {
    BentResiduals residuals;
    if (submerged) {
        const double water_over_line =
            submerged->water_density.in(gram_per_cubic_centimetre)*std::exp(-point.y());
        const double expected = submerged->coupling.head<2>().dot(point) + submerged->coupling.z();
        residuals.value(residuals.count) =
            (submerged->ratio - (1.0 - water_over_line) - expected) / submerged->sd;
        residuals.slope.row(residuals.count) = (Eigen::RowVector2d(0.0, -water_over_line) -
                                                submerged->coupling.head<2>().transpose()) /
                                               submerged->sd;
        ++residuals.count;
    }
    if (drop) {
        const double lightest = std::log(drop->water.density.in(gram_per_cubic_centimetre));
        if (!is_conceivable(point) || point.y() <= lightest) {
            residuals.possible = false;
            return residuals;
        }
        const double sd = std::hypot(drop->reading_sd, drop->drag_sd);
        const auto rate = ln_sink_rate(point, drop->water);
        residuals.value(residuals.count) = (drop->ln_rate - rate.value) / sd;
        residuals.slope.row(residuals.count) = -rate.slope / sd;
        ++residuals.count;
    }
    return residuals;
}

double Evidence::bent_ln_norm() const {
    double norm = 0.0;
    if (submerged) norm -= std::log(submerged->sd) + ln_root_two_pi;
    if (drop) norm -= std::log(std::hypot(drop->reading_sd, drop->drag_sd)) + ln_root_two_pi;
    return norm;
}

Result<Evidence> evidence_of(const CoilReadings& readings, const Instruments& instruments) {
    const auto scale = scale_of(instruments, readings.scale);
    if (!scale) return tl::unexpected(scale.error());
    const auto tape = tape_of(instruments, readings.tape);
    if (!tape) return tl::unexpected(tape.error());
    const auto micrometer = micrometer_of(instruments, readings.micrometer);
    if (!micrometer) return tl::unexpected(micrometer.error());

    const auto bucket = water_at(bucket_temperature(readings));
    if (!bucket) return tl::unexpected(bucket.error());
    if (auto refused =
            first_refusal(readings, *scale, *tape, *micrometer, instruments.stopwatches.at(""))) {
        return tl::unexpected(std::move(*refused));
    }

    Evidence evidence{{}, {}, {}, readings.tint, readings.taper, readings.floats, {}, *bucket};
    if (readings.whole_length) evidence.whole_length = readings.whole_length->value;

    const auto weighings = weighings_of(readings, *scale, *tape);
    const Eigen::RowVector2d x_row{1.0, 0.0};
    Joint joint;
    int sample = -1;
    int whole = -1;
    if (weighings.sample) {
        const auto& piece = *weighings.sample;
        sample = joint.add(x_row, ln_weight_per_length(piece),
                           relative_variance(piece.weight) + relative_variance(piece.length) +
                               tapered_variance(readings));
    }
    if (weighings.whole) {
        const auto& piece = *weighings.whole;
        whole = joint.add(x_row, ln_weight_per_length(piece),
                          relative_variance(piece.weight) + relative_variance(piece.length));
        if (sample >= 0) joint.couple(sample, whole, shared_covariance(*weighings.sample, piece));
    }
    if (!readings.diameters.empty()) {
        const Length mean = mean_diameter(readings).mean - micrometer->offset;
        joint.add(ln_diameter_row(), std::log(mean.in(millimetre)) - ln_diameter_constant(),
                  diameter_variance(readings, *micrometer));
    }
    if (weighings.submerged) {
        const auto in_air = errors_of<Mass>(*readings.sample_weight, *scale);
        const auto error = ratio_error(in_air, *weighings.submerged);
        const int ratio = joint.add(Eigen::RowVector2d::Zero(),
                                    weighings.submerged->value / in_air.value, error.variance);
        if (sample >= 0) joint.couple(sample, ratio, error.with_sample);
        if (whole >= 0) {
            const double r = weighings.submerged->value / in_air.value;
            joint.couple(whole, ratio,
                         (weighings.submerged->shared - r * in_air.shared) / in_air.value *
                             (weighings.whole->weight.shared / weighings.whole->weight.value));
        }
    }
    whiten(joint, weighings.submerged.has_value(), bucket->density, evidence);
    if (readings.sink_distance && readings.sink_time) {
        evidence.drop = drop_of(readings, *tape, instruments.stopwatches.at(""),
                                instruments.thermometers.at(""), *bucket);
    }
    return evidence;
}

}  // namespace coilbook
