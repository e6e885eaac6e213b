// The trade's names for lines: grain class, density grade, line size, family, tint, taper.
//
// Names come second: each of these is a name that a measured line may deserve, never a measurement.
#pragma once

#include <array>
#include <compare>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace coilbook {

// T-n: a level line of n grains a foot, to a few per cent (common practice, no published source).
struct GrainClass {
    int grains_per_foot;  // 1 … 99

    auto operator<=>(const GrainClass&) const = default;
};

// How fast a line sinks, by name: floating, intermediate, or type n, which nominally sinks at n to
// n + 1 inches a second (common practice, no published source).
class DensityGrade {
  public:
    [[nodiscard]] static constexpr DensityGrade floating() { return DensityGrade(-1); }
    [[nodiscard]] static constexpr DensityGrade intermediate() { return DensityGrade(0); }
    // REQUIRES: 1 <= number <= 9.
    [[nodiscard]] static constexpr DensityGrade type(int number) { return DensityGrade(number); }

    [[nodiscard]] constexpr bool floats() const { return rank_ < 0; }
    // -1 floating, 0 intermediate, else the n of type n; sorts from light to dense.
    [[nodiscard]] constexpr int rank() const { return rank_; }

    auto operator<=>(const DensityGrade&) const = default;

  private:
    explicit constexpr DensityGrade(int rank) : rank_(rank) {}
    int rank_;
};

// The number of a line of the trade's line-weight standard: 1 … 15.
struct LineSize {
    int number;

    auto operator<=>(const LineSize&) const = default;
};

// A floating line has no family here: it is sold by size and taper, not by how it sinks.
enum class Family { level_line, matched_tip, sinking_leader, unlisted };

enum class Tint { clear, pale, brown, dark, black };
enum class Taper { level, tapered };

inline constexpr std::array all_tints{Tint::clear, Tint::pale, Tint::brown, Tint::dark,
                                      Tint::black};

[[nodiscard]] std::string name_of(GrainClass grain_class);      // "T-11"
[[nodiscard]] std::string name_of(DensityGrade density_grade);  // "floating", "type 6"
[[nodiscard]] std::string name_of(LineSize line_size);          // "8"
[[nodiscard]] std::string name_of(Family family);               // "level line"
[[nodiscard]] std::string name_of(Tint tint);                   // "brown"
[[nodiscard]] std::string name_of(Taper taper);                 // "tapered"

// The inverses; capitals are forgiven. A Problem says which names there are.
[[nodiscard]] Result<GrainClass> grain_class_from(std::string_view name);
[[nodiscard]] Result<DensityGrade> density_grade_from(std::string_view name);
[[nodiscard]] Result<LineSize> line_size_from(std::string_view name);
[[nodiscard]] Result<Family> family_from(std::string_view name);
[[nodiscard]] Result<Tint> tint_from(std::string_view name);
[[nodiscard]] Result<Taper> taper_from(std::string_view name);

}  // namespace coilbook
