// Which coils are one line, and what the library calls it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/bin.h"
#include "identify/same_line.h"

namespace coilbook::app {

// A median and its standard uncertainty, in gr/ft or g/cm3.
struct Figure {
    double value;
    double uncertainty;
};
// Of a line; nothing where the readings do not determine it.
[[nodiscard]] std::optional<Figure> weight_of(const Gaussian2& line);
[[nodiscard]] std::optional<Figure> density_of(const Gaussian2& line);
// "11.02 ± 0.03"; empty for nothing.
[[nodiscard]] std::string words_of(const std::optional<Figure>& figure);

struct NamedGroup {
    LineGroup group;
    GroupName name;
    std::optional<Figure> grains_per_foot, density;  // of the line, not of its coils

    // Several coils whose line the library does not have, known well enough to be made a class.
    [[nodiscard]] bool asks_for_a_name() const {
        return group.codes.size() > 1 && !name.listed && grains_per_foot && density;
    }
};
// The groups of these coils, the lightest line first, single coils included. Pure: may be worked
// out on another thread. REQUIRES: codes are unique; `library` has one class of family unlisted.
[[nodiscard]] std::vector<NamedGroup> named_groups(const std::vector<BinCoilLine>& coils,
                                                   const ReferenceLibrary& library);
// "T-11, 94 %", "one line, not in your library: name it", "not measured enough".
[[nodiscard]] std::string what_it_is(const NamedGroup& group, const ReferenceLibrary& library);

// The coils of a bin as same_line.h takes them; those that nobody has measured are left out.
// Throws Error if a reading names an instrument that the catalogue does not have.
[[nodiscard]] std::vector<BinCoilLine> coil_lines(const Bin& bin);

}  // namespace coilbook::app
