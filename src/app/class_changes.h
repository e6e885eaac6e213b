// What a person can do to the classes of a catalogue's library: change one, add one, split one in
// two by its confirmed coils, join two.
//
// Each is one act that undo takes back, and what was learned is worked out anew. The built-in
// library is where a catalogue began; from then on its classes are its own. A class is called by
// its name: giving it another one moves the coils confirmed as it, and is refused while an outing
// to come asks for it by the old name. 'unlisted' stays as it is.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/workshop.h"
#include "catalog/reference_class.h"
#include "identify/same_line.h"
#include "quantity/unit_set.h"

namespace coilbook::app {

// A class as a person writes it; medians, and spreads as one standard deviation in per cent. Empty
// facets are none. A weight per length without a unit is in that of `units`.
struct ClassWords {
    std::string name, family, grain_class, density_grade, line_size;
    std::string grains_per_foot, grains_per_foot_spread;  // "11", or "2.3 g/m"; %
    std::string density, density_spread;                  // g/cm3, %
    std::string weight;                                   // how common it is beside the others
    Units units = grains_and_feet;

    bool operator==(const ClassWords&) const = default;
};
// The class as it is kept, without what it learned. A Problem where there is none of that name, and
// for `unlisted`.
[[nodiscard]] Result<ClassWords> words_of_class(Workshop& workshop, std::string_view name,
                                                const Units& units = grains_and_feet);

// A Problem names the field and what would be accepted: a name that is free, plain text and at most
// 60 bytes long; 0.1 to 1000 gr/ft, 0.3 to 25 g/cm3; spreads above 0, at most 100 %; a weight above
// 0, at most 1000.
[[nodiscard]] Result<void> change_class(Workshop& workshop, std::string_view name,
                                        const ClassWords& words);
// Nothing is known of its tints and lengths; one in two is taken to be tapered.
[[nodiscard]] Result<void> add_class(Workshop& workshop, const ClassWords& words);

// Where one class is cut in two: all coils with less on one side.
enum class CutBy { weight, density };
struct Cut {
    CutBy by = CutBy::weight;
    double at = 0.0;  // gr/ft or g/cm3
};
// A half: its coils and the class that would be made of them.
struct Half {
    std::vector<std::string> codes;
    ReferenceClass made;
};
struct Split {
    Cut cut;
    Half low, high;
    std::vector<std::string> untold;  // their readings do not tell: they are confirmed no more
};
// What splitting would do; nothing is changed. Without a `cut` the widest gap is taken, in
// whichever of weight and density it is wider in per cent. A Problem for an unknown class and where
// one half would have no coil. The names are those of the halves.
[[nodiscard]] Result<Split> planned_split(Workshop& workshop, std::string_view name,
                                          const std::optional<Cut>& cut, std::string_view low_name,
                                          std::string_view high_name);
// "T-11 light" and "T-11 heavy", or "less dense" and "denser": what to call the halves.
struct HalfNames {
    std::string low, high;
};
[[nodiscard]] HalfNames half_names(std::string_view name, CutBy by);
// Makes the classes of `split` in place of the old one and confirms the coils as them.
[[nodiscard]] Result<void> split_class(Workshop& workshop, std::string_view name,
                                       const Split& split);

// What joining would make: one class in place of two, with the kept one's name and facets, and
// their mean and spread together (of a mixture by their weights).
[[nodiscard]] Result<ReferenceClass> planned_join(Workshop& workshop, std::string_view kept,
                                                  std::string_view other);
// Does it: every coil that was confirmed as `other` is confirmed as `kept` from then on.
[[nodiscard]] Result<void> join_classes(Workshop& workshop, std::string_view kept,
                                        std::string_view other);

}  // namespace coilbook::app
