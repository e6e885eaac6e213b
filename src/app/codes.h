// Giving things a code, and finding them by what a person types for it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/workshop.h"

namespace coilbook::app {

// A code by lot (catalog/given_code.h) that nothing in this catalogue has or ever had. It is not
// taken until something is added with it. Throws Error if the catalogue cannot be read.
[[nodiscard]] std::string new_code(Workshop& workshop);
// `count` of them, all different. REQUIRES: 0 <= count <= 10 000.
[[nodiscard]] std::vector<std::string> new_codes(Workshop& workshop, int count);

// A Problem where several coils or rigs go by that code, as they may after a merge: which of them
// is meant is not guessed.
[[nodiscard]] Result<void> check_only_one_has(Workshop& workshop, std::string_view code);

enum class CodeOf { coil, rig, coil_or_rig };

// For a code that nothing of that sort in the bin has: says when the coil or rig of that code was
// retired, if one was; else that there is none, and the nearest codes ("perhaps 'K7M3XM'"). Says so
// where the code is one that the program gives, but mistyped.
[[nodiscard]] Problem unknown_code(Workshop& workshop, CodeOf sort, std::string_view code);

}  // namespace coilbook::app
