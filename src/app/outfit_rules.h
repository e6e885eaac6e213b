// The rules of boats, rigs, clients, outings, promises, handovers and of coils' conditions and
// photographs: a part of kind_rules.h.
#pragma once

#include "app/kind_rules.h"

namespace coilbook::app {

[[nodiscard]] Result<void> boat_rule(Workshop& workshop, const KindCells& cells);
[[nodiscard]] Result<void> rig_rule(Workshop& workshop, const KindCells& cells);
// Puts the moment at which something was told, since a name itself has no history; a client who
// was forgotten has no name.
[[nodiscard]] Result<void> client_rule(Workshop& workshop, const KindCells& cells);
[[nodiscard]] Result<void> outing_rule(Workshop& workshop, const KindCells& cells);
[[nodiscard]] Result<void> promise_rule(Workshop& workshop, const KindCells& cells);
[[nodiscard]] Result<void> handover_rule(Workshop& workshop, const KindCells& cells);
[[nodiscard]] Result<void> condition_rule(Workshop& workshop, const KindCells& cells);
// Fills in what the picture itself says, where it was left open; a row whose picture the catalogue
// has already may do without it.
[[nodiscard]] Result<void> photograph_rule(Workshop& workshop, const KindCells& cells);

}  // namespace coilbook::app
