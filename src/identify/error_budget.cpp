#include "identify/error_budget.h"

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <numbers>

#include "identify/evidence.h"
#include "identify/gaussian2.h"

namespace coilbook {
namespace {

constexpr double exactness_floor = 1e-8;
constexpr double hair = 1e-10;

constexpr auto index(Read read) {
    return static_cast<Eigen::Index>(read);
}
constexpr auto index(Row row) {
    return static_cast<Eigen::Index>(row);
}

ReadVector only(Read read) {
    return ReadVector::Unit(index(read));
}

// One kind of instrument at work: notes its readings and gathers what they share.
template <class Q>
class Gathering {
  public:
    Gathering(StraightReadings& straight, const Instrument<Q>& instrument)
        : straight_(straight), instrument_(instrument) {}
    ~Gathering() {
        if (shared_.any()) {
            straight_.sources.push_back(
                {instrument_.offset_uncertainty.si(), instrument_.limit_of_error.si(), shared_});
        }
    }
    Gathering(const Gathering&) = delete;
    Gathering& operator=(const Gathering&) = delete;

    void take(Read which, const Stated<Q>& stated) {
        const bool by_instrument = !stated.uncertainty;
        straight_.read(index(which)) = less_offset<Q>(stated, instrument_).si();
        if (by_instrument) {
            straight_.sources.push_back(
                {instrument_.repeatability.si(), 0.5 * instrument_.resolution.si(), only(which)});
            shared_(index(which)) = 1.0;
        } else {
            straight_.sources.push_back({stated.uncertainty->si(), 0.0, only(which)});
        }
    }

  private:
    StraightReadings& straight_;
    const Instrument<Q>& instrument_;
    ReadVector shared_ = ReadVector::Zero();
};

// What the mean square of so many deviations exceeds once in a thousand, as a multiple of the
// variance that it is an estimate of: chi-square over its degrees of freedom.
double scatter_by_chance(std::size_t deviations) {
    static const auto limits = [] {
        std::array<double, 64> all{};
        for (std::size_t i = 1; i < all.size(); ++i) {
            const auto n = static_cast<double>(i);
            const boost::math::chi_squared by_chance(n);
            all[i] = boost::math::quantile(boost::math::complement(by_chance, 0.001)) / n;
        }
        return all;
    }();
    return limits[std::min(deviations, limits.size() - 1)];
}

void take_diameters(StraightReadings& straight, const std::vector<Stated<Length>>& diameters,
                    const Micrometer& micrometer, bool tapered) {
    const auto which = Read::diameter;
    const double n = static_cast<double>(diameters.size());
    double mean = 0.0;
    double stated_variance = 0.0;
    int by_instrument = 0;
    for (const auto& each : diameters) {
        mean += less_offset<Length>(each, micrometer).si() / n;
        if (each.uncertainty) {
            stated_variance += std::pow(each.uncertainty->si() / n, 2);
        } else {
            ++by_instrument;
        }
    }
    straight.read(index(which)) = mean;
    const double share = by_instrument / n;  // of the mean that the instrument answers for
    double scatter = 0.0;                    // variance of one reading, from how they differ
    if (n > 1.0) {
        for (const auto& each : diameters) {
            const double off = less_offset<Length>(each, micrometer).si() - mean;
            scatter += off * off / (n - 1.0);
        }
    }
    const double rounding = 0.5 * micrometer.resolution.si();
    double own = std::pow(micrometer.repeatability.si(), 2) * by_instrument / (n * n);
    double rectangle = share * rounding;
    if (scatter > 0.0) {  // they differ, so their roundings are not one and the same
        own += rounding * rounding / 3.0 * by_instrument / (n * n);
        rectangle = 0.0;
    }
    // A tapered coil's diameters differ by themselves. Only a scatter beyond all that is known
    // tells something new, and then it tells all of it.
    const double taper = tapered ? std::pow(tapered_diameter_sd * mean, 2) / n : 0.0;
    double variance = own + stated_variance + taper;
    if (n > 1.0 && scatter / n > scatter_by_chance(diameters.size() - 1) * variance) {
        variance = scatter / n;
    }
    const double bell = std::sqrt(variance);
    straight.sources.push_back({bell, rectangle, only(which)});
    if (by_instrument > 0) {
        const double shared =
            std::hypot(micrometer.offset_uncertainty.si(), micrometer.coating_uncertainty.si());
        straight.sources.push_back(
            {share * shared, share * micrometer.limit_of_error.si(), only(which)});
    }
}

}  // namespace

double ErrorSource::rectangle_sd() const {
    return rectangle / std::numbers::sqrt3;
}

StraightReadings straight_readings(const CoilReadings& readings, const Scale& scale,
                                   const Tape& tape, const Micrometer& micrometer,
                                   const Water& bucket) {
    StraightReadings straight;
    const auto sample = weighed_sample(readings);
    const auto whole = weighed_whole(readings);
    straight.has = {sample.has_value(), whole.has_value(), !readings.diameters.empty(),
                    sample && readings.submerged_weight};
    straight.ln_water_density = std::log(bucket.density.in(gram_per_cubic_centimetre));
    {
        Gathering<Mass> weighings(straight, scale);
        Gathering<Length> lengths(straight, tape);
        if (sample) {
            weighings.take(Read::in_air, sample->weight);
            lengths.take(Read::sample_length, sample->length);
        }
        if (whole) {
            weighings.take(Read::whole_weight, whole->weight);
            lengths.take(Read::whole_length, whole->length);
        }
        if (straight.has_row(Row::displaced)) {
            weighings.take(Read::in_water, *readings.submerged_weight);
        }
    }
    if (straight.has_row(Row::diameter)) {
        take_diameters(straight, readings.diameters, micrometer, readings.taper == Taper::tapered);
    }
    if (readings.taper == Taper::tapered && sample) {
        const Length all = readings.whole_length ? readings.whole_length->value : usual_tip;
        const double missing = std::max(0.1, 1.0 - sample->length.value / all);
        straight.taper_sd = missing * tapered_sample_sd;
    }
    return straight;
}

std::optional<RowVector4> row_values(const StraightReadings& straight, const ReadVector& read) {
    static const double ln_line = std::log(grain_per_foot.si());
    const auto ln_of = [&](Read which) { return std::log(read(index(which))); };
    RowVector4 values = RowVector4::Zero();
    if (straight.has_row(Row::sample)) {
        values(index(Row::sample)) = ln_of(Read::in_air) - ln_of(Read::sample_length) - ln_line;
    }
    if (straight.has_row(Row::whole)) {
        values(index(Row::whole)) = ln_of(Read::whole_weight) - ln_of(Read::whole_length) - ln_line;
    }
    if (straight.has_row(Row::diameter)) {
        static const double ln_mm = std::log(millimetre.si());
        values(index(Row::diameter)) = ln_of(Read::diameter) - ln_mm - ln_diameter_constant();
    }
    if (straight.has_row(Row::displaced)) {
        const double displaced = read(index(Read::in_air)) - read(index(Read::in_water));
        values(index(Row::displaced)) =
            std::log(displaced) - ln_of(Read::sample_length) - ln_line - straight.ln_water_density;
    }
    if (!values.allFinite()) return std::nullopt;
    return values;
}

Eigen::Matrix<double, 4, 2> row_coefficients() {
    Eigen::Matrix<double, 4, 2> rows;
    rows << 1.0, 0.0,  //
        1.0, 0.0,      //
        ln_diameter_row(), 1.0, -1.0;
    return rows;
}

Eigen::Matrix<double, 4, 6> row_derivatives(const StraightReadings& straight) {
    Eigen::Matrix<double, 4, 6> g = Eigen::Matrix<double, 4, 6>::Zero();
    const auto& read = straight.read;
    const auto at = [&](Row row, Read which) -> double& { return g(index(row), index(which)); };
    if (straight.has_row(Row::sample)) {
        at(Row::sample, Read::in_air) = 1.0 / read(index(Read::in_air));
        at(Row::sample, Read::sample_length) = -1.0 / read(index(Read::sample_length));
    }
    if (straight.has_row(Row::whole)) {
        at(Row::whole, Read::whole_weight) = 1.0 / read(index(Read::whole_weight));
        at(Row::whole, Read::whole_length) = -1.0 / read(index(Read::whole_length));
    }
    if (straight.has_row(Row::diameter)) {
        at(Row::diameter, Read::diameter) = 1.0 / read(index(Read::diameter));
    }
    if (straight.has_row(Row::displaced)) {
        double variance = 0.0;  // of the displaced weight
        for (const auto& source : straight.sources) {
            const double moved =
                source.moves(index(Read::in_air)) - source.moves(index(Read::in_water));
            variance += moved * moved *
                        (source.bell * source.bell + source.rectangle * source.rectangle / 3.0);
        }
        const double displaced =
            std::max(read(index(Read::in_air)) - read(index(Read::in_water)), std::sqrt(variance));
        at(Row::displaced, Read::in_air) = 1.0 / displaced;
        at(Row::displaced, Read::in_water) = -1.0 / displaced;
        at(Row::displaced, Read::sample_length) = -1.0 / read(index(Read::sample_length));
    }
    return g;
}

Eigen::Matrix4d row_covariance(const StraightReadings& straight,
                               const Eigen::Matrix<double, 4, 6>& derivatives,
                               std::uint32_t coarse_sources) {
    Eigen::Matrix4d covariance = Eigen::Matrix4d::Zero();
    for (std::size_t i = 0; i < straight.sources.size(); ++i) {
        const auto& source = straight.sources[i];
        const bool coarse = (coarse_sources >> i & 1U) != 0;
        const double rectangle = coarse ? 0.0 : source.rectangle * source.rectangle / 3.0;
        const RowVector4 effect = derivatives * source.moves;
        covariance += (source.bell * source.bell + rectangle) * effect * effect.transpose();
    }
    // A tapered piece is thicker or thinner than the whole; its density is the same.
    RowVector4 taper = RowVector4::Zero();
    if (straight.has_row(Row::sample)) taper(index(Row::sample)) = straight.taper_sd;
    if (straight.has_row(Row::displaced)) taper(index(Row::displaced)) = straight.taper_sd;
    covariance += taper * taper.transpose();
    // The second part keeps readings that share all their error apart by a hair.
    covariance.diagonal() = covariance.diagonal().cwiseMax(exactness_floor).array() + hair;
    return covariance;
}

}  // namespace coilbook
