// Builders for tests: coils with readings, and a small reference library with round figures.
//
// The library's figures are made up for tests (round, and near the real ones); the real library is
// assets/reference_library.csv and has tests of its own.
#pragma once

#include <cmath>
#include <string_view>

#include "catalog/readings.h"
#include "catalog/reference_class.h"
#include "metrology/instrument.h"

namespace coilbook {

// a_coil().reads("sample_length", "24 in").reads("sample_weight", "22.4 gr")
class CoilBuilder {
  public:
    CoilBuilder& reads(std::string_view field, std::string_view text) {
        const auto known = reading_field_from(field).value();
        const auto values = read_values(known, text).value();
        for (const auto& value : values) put(readings_, known, value);
        return *this;
    }
    // Both as on a scale and a tape.
    CoilBuilder& sample(std::string_view length, std::string_view weight) {
        return reads("sample_length", length).reads("sample_weight", weight);
    }
    CoilBuilder& whole(std::string_view length, std::string_view weight) {
        return reads("whole_length", length).reads("whole_weight", weight);
    }
    CoilBuilder& diameters(std::string_view text) { return reads("diameters", text); }
    CoilBuilder& drop(std::string_view distance, std::string_view time) {
        return reads("sink_distance", distance).reads("sink_time", time);
    }
    operator CoilReadings() const { return readings_; }  // NOLINT: a builder ends by converting
    [[nodiscard]] const CoilReadings& readings() const { return readings_; }

  private:
    CoilReadings readings_;
};
[[nodiscard]] inline CoilBuilder a_coil() {
    return {};
}

[[nodiscard]] inline LineDistribution a_line(double grains_per_foot, double sd_percent,
                                             double g_per_cm3, double density_sd_percent,
                                             double correlation = 0.0) {
    return {std::log(grains_per_foot), sd_percent / 100.0, std::log(g_per_cm3),
            density_sd_percent / 100.0, correlation};
}

[[nodiscard]] inline ReferenceLibrary a_library() {
    const std::array<double, 5> dark{0.01, 0.02, 0.07, 0.45, 0.45};
    const std::array<double, 5> pale{0.45, 0.45, 0.06, 0.02, 0.02};
    const std::array<double, 5> any{0.2, 0.2, 0.2, 0.2, 0.2};
    const UsualLengths tips{{10.0 * foot, 15.0 * foot}, 0.04};
    ReferenceLibrary library;
    const auto add = [&](ReferenceClass each) { library.push_back(std::move(each)); };
    for (const int n : {8, 11, 14}) {
        add({name_of(GrainClass{n}),
             Family::level_line,
             GrainClass{n},
             DensityGrade::type(7),
             {},
             6.0,
             a_line(n, 3.0, 4.2, 8.0),
             0.02,
             dark,
             {},
             "test"});
    }
    add({"size 8 intermediate tip",
         Family::matched_tip,
         {},
         DensityGrade::intermediate(),
         LineSize{8},
         3.0,
         a_line(7.0, 4.0, 1.12, 3.0),
         0.6,
         pale,
         tips,
         "test"});
    add({"size 8 type 3 tip",
         Family::matched_tip,
         {},
         DensityGrade::type(3),
         LineSize{8},
         3.0,
         a_line(7.0, 4.0, 1.68, 8.0),
         0.6,
         any,
         tips,
         "test"});
    add({"size 8 type 6 tip",
         Family::matched_tip,
         {},
         DensityGrade::type(6),
         LineSize{8},
         3.0,
         a_line(7.0, 4.0, 4.6, 7.0),
         0.6,
         dark,
         tips,
         "test"});
    add({"size 11 type 7 tip",
         Family::matched_tip,
         {},
         DensityGrade::type(7),
         LineSize{11},
         3.0,
         a_line(11.0, 4.0, 4.3, 9.0),
         0.6,
         dark,
         tips,
         "test"});
    add({"floating line",
         {},
         {},
         DensityGrade::floating(),
         {},
         2.0,
         a_line(7.5, 35.0, 0.88, 5.0),
         0.7,
         pale,
         {},
         "test"});
    add({"unlisted",
         Family::unlisted,
         {},
         {},
         {},
         1.0,
         a_line(7.0, 90.0, 2.0, 55.0),
         0.4,
         any,
         {},
         "test"});
    return library;
}

}  // namespace coilbook
