// A library of three classes with invented figures, and the words that confirm a coil.
#pragma once

#include <optional>
#include <string>

#include "catalog/coil.h"
#include "catalog/reference_class.h"
#include "store/class_repository.h"
#include "support/catalogue.h"

namespace coilbook::store {

inline ReferenceLibrary small_library() {
    return {
        {.name = "T-11",
         .family = Family::level_line,
         .grain_class = GrainClass{11},
         .density_grade = DensityGrade::type(7),
         .line_size = {},
         .weight = 1.0,
         .line = {2.3978952727983707, 0.02, 1.4350845252893227, 0.06, -0.3},
         .tapered = 0.01,
         .tints = {0.01, 0.04, 0.1, 0.35, 0.5},
         .usual = {},
         .basis = "invented",
         .confirmed = 0},
        {.name = "size 8 type 6",
         .family = Family::matched_tip,
         .grain_class = {},
         .density_grade = DensityGrade::type(6),
         .line_size = LineSize{8},
         .weight = 0.5,
         .line = {1.9, 0.05, 1.1, 0.1 + 0.2, 0.0},
         .tapered = 0.8,
         .tints = {0.2, 0.2, 0.2, 0.2, 0.2},
         .usual = UsualLengths{{10.0 * foot, 15.0 * foot}, 0.02},
         .basis = "invented, too; 'quoted'",
         .confirmed = 0},
        {.name = "unlisted",
         .family = Family::unlisted,
         .grain_class = {},
         .density_grade = {},
         .line_size = {},
         .weight = 0.1,
         .line = {1.5, 1.0, 0.9, 0.5, 0.0},
         .tapered = 0.5,
         .tints = {0.2, 0.2, 0.2, 0.2, 0.2},
         .usual = {},
         .basis = "anything",
         .confirmed = 0},
    };
}

inline void put_library(Catalogue& catalogue, const ReferenceLibrary& library) {
    in_an_act(catalogue, [&](Act& act) { catalogue.classes().put_library(act, library); });
}

inline Confirmation confirmed(const Coil& coil, std::optional<std::string> class_name) {
    return {.id = next_id<Confirmation>(),
            .coil = coil.id,
            .class_name = std::move(class_name),
            .by = "the guide",
            .at = moment(60),
            .note = "the label came to light"};
}

inline Confirmation unconfirmed(const Coil& coil) {
    return confirmed(coil, std::nullopt);
}

}  // namespace coilbook::store
