// The reference library laid out for identification: made once, asked for every coil.
//
// A class is one bivariate normal over θ, or, where it was learned from few coils, a Student t,
// kept as a sum of twelve normals of one centre: t is a normal whose precision is scaled by a Gamma
// variable, and the sum is that integral by Gauss–Laguerre quadrature.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "catalog/reference_class.h"
#include "identify/gaussian2.h"

namespace coilbook {

// The distinct values of one facet, in the order in which the library's classes bring them up, none
// being a value too, and which one each class has.
template <class Value>
struct FacetTable {
    std::vector<std::optional<Value>> values;
    std::vector<std::uint16_t> of_class;
};

// The probability of each result that a reading can have, and −Σ p ln p of them in nats.
struct ResultTable {
    std::vector<double> results;
    double entropy;
};

class PreparedLibrary {
  public:
    explicit PreparedLibrary(ReferenceLibrary library);

    [[nodiscard]] const ReferenceLibrary& classes() const { return library_; }
    [[nodiscard]] const ReferenceClass& operator[](std::size_t k) const { return library_[k]; }
    [[nodiscard]] std::size_t size() const { return library_.size(); }
    // Index of the class of family unlisted, or size() where a library has none.
    [[nodiscard]] std::size_t unlisted() const { return unlisted_; }

    // The normals that the classes are made of, class by class; one entry each.
    struct Components {
        std::vector<std::uint32_t> owner;  // the class
        std::vector<double> mean_x, mean_y, var_x, cov_xy, var_y;
        std::vector<double> ln_share;  // of the prior weight, normalised over the library

        [[nodiscard]] std::size_t size() const { return owner.size(); }
        [[nodiscard]] Gaussian2 gaussian(std::size_t c) const;
    };
    [[nodiscard]] const Components& components() const { return components_; }
    // First component of class k; k = size() gives the number of components.
    [[nodiscard]] std::size_t first_component(std::size_t k) const { return first_[k]; }

    // Classes with the same usual lengths share a group, 0 up to length_groups().
    [[nodiscard]] std::size_t length_group(std::size_t k) const { return length_group_[k]; }
    [[nodiscard]] const std::vector<std::optional<UsualLengths>>& length_groups() const {
        return length_groups_;
    }
    // Probabilities of a whole length of class k to lie in each of length_cells equal steps of
    // ln(length), 1 to 150 ft.
    static constexpr std::size_t length_cells = 256;
    [[nodiscard]] const ResultTable& length_results(std::size_t k) const {
        return length_results_[length_group_[k]];
    }
    // How near the lengths of one class are to another's: closeness() of tidings.h.
    [[nodiscard]] double length_closeness(std::size_t k, std::size_t other) const {
        return length_closeness_[length_group_[k] * length_groups_.size() + length_group_[other]];
    }
    // Tapered and level; the five tints.
    [[nodiscard]] const ResultTable& taper_results(std::size_t k) const {
        return taper_results_[k];
    }
    [[nodiscard]] const ResultTable& tint_results(std::size_t k) const { return tint_results_[k]; }
    // The classes that are the same line in the water as class k (alike.h).
    [[nodiscard]] const std::vector<std::size_t>& fishing_like(std::size_t k) const {
        return fishing_like_[k];
    }

    FacetTable<GrainClass> grain_classes;
    FacetTable<DensityGrade> density_grades;
    FacetTable<LineSize> line_sizes;
    FacetTable<Family> families;

  private:
    ReferenceLibrary library_;
    std::size_t unlisted_;
    Components components_;
    std::vector<std::size_t> first_;
    std::vector<std::size_t> length_group_;
    std::vector<std::optional<UsualLengths>> length_groups_;
    std::vector<ResultTable> length_results_, taper_results_, tint_results_;
    std::vector<double> length_closeness_;  // row by row of the groups
    std::vector<std::vector<std::size_t>> fishing_like_;
};

// Shares and precision factors of the normals that make up a Student t with `degrees_of_freedom`
// above 2: t(μ, S, ν) ≈ Σ share · N(μ, S / precision). Shares sum to 1, and so do share · precision
// and, since twelve nodes are exact to degree 23, all moments up to the 23rd of the precision.
// Source: Golub and Welsch 1969 for the generalised Laguerre weight τ^(ν/2−1) e^(−τ).
struct ScaledNormal {
    double share;
    double precision;
};
[[nodiscard]] std::array<ScaledNormal, 12> student_as_normals(double degrees_of_freedom);

}  // namespace coilbook
