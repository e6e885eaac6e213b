// Which coils are one line, listed or not: the use case of `coilbook groups`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/identify_file.h"
#include "app/workshop.h"
#include "identify/same_line.h"

namespace coilbook::app {

// Groups the coils of a readings file. CSV and JSON have one row a coil in the file's order: `code,
// group, group_size, group_probability, class, class_probability, group_grains_per_foot,
// group_grains_per_foot_u, group_density_g_cm3, group_density_g_cm3_u`. Groups are numbered from 1,
// the lightest line first; `group_probability` is how probably the coil belongs there; `class` is
// the library's name for the group's line, or `unlisted`. A table has one row a group.
// Uses of `request` what identify_file uses but `fished_in` and `stops_at_first_problem`: rows with
// Problems are told and left out. Gives whether all rows were fine. Throws Error if the disk fails.
[[nodiscard]] bool group_file(const IdentifyRequest& request, std::ostream& results,
                              const IdentifyReports& reports = {});

// The family that a class of one's own may have; nothing for an empty name. A Problem says which
// there are.
[[nodiscard]] Result<std::optional<Family>> family_of_class(const std::string& name);

// Adds a class to the catalogue's library, made from these coils' readings, which are taken to be
// one line, and confirms them as it: one act. They teach it like any coils confirmed later, each
// once (learning.h). `family` as family_of_class reads it. A Problem for a name that is taken, a
// coil that is not there, stands twice or has no readings to go by, and coils whose weight per foot
// or density nobody read.
[[nodiscard]] Result<void> make_class(Workshop& workshop, const std::string& name,
                                      const std::string& family,
                                      const std::vector<std::string>& codes);

}  // namespace coilbook::app
