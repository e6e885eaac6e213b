// From what is known about the classes and their confirmed coils to what the page shows. Pure: no
// window, no database, no clock.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/class_changes.h"
#include "app/class_sheets.h"
#include "app/score_confirmed.h"
#include "bench/pages/library/library_form.h"
#include "bench/pages/library/library_view.h"

namespace coilbook::bench::library_page {

struct Situation {
    std::vector<app::ClassSheet> classes;         // in the library's order
    std::vector<app::ConfirmedExample> examples;  // by code
    PlotView ground;                              // ground_of() both, in these units
    Units units = grains_and_feet;                // that all numbers are shown in
    std::optional<app::ConfirmedScore> score;     // nothing while it is being worked out
    std::optional<app::Split> split;              // as planned, while a class is being split
    std::optional<ReferenceClass> joined;         // as planned, while two are being joined
    std::string plan_trouble;                     // why there is no plan; may be empty
    std::string failure;
    std::string message;
};

[[nodiscard]] View view_of(const Form& form, const Situation& situation);

// The classes that the filter lets through, as indices in the library's order: those of which each
// word typed is in the name, the family or the grade, or begins the code of a coil confirmed as it.
// Capitals are forgiven.
[[nodiscard]] std::vector<std::size_t> matching(const std::string& filter,
                                                const Situation& situation);

// The sheet of that name, or null.
[[nodiscard]] const app::ClassSheet* sheet_named(const Situation& situation,
                                                 const std::string& name);
// The confirmed coils of that class that look wrong, the worst first.
[[nodiscard]] std::vector<const app::ConfirmedExample*> doubts_of(const Situation& situation,
                                                                  const std::string& class_name);

}  // namespace coilbook::bench::library_page
