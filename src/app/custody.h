// Handing things out and taking them back, and asking where they are.
//
// Each call is one act. Everything that is in a rig goes with the rig.
#pragma once

#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/inventory.h"
#include "app/table.h"
#include "app/workshop.h"

namespace coilbook::app {

// What to do with things; the boat is where they go, or from where they were lost.
struct HandRequest {
    Whereabouts to = Whereabouts::bin;
    std::string boat;    // its name, where it must be told
    std::string client;  // code or name, of what is lent to one
    std::string note;
    std::vector<std::string> codes;
};

// Hands over every thing, or none. A Problem for a code that nothing has, a boat or client that is
// not there, the same thing named twice, and for what cannot be: handing out what is with another
// boat already, lent, lost, damaged or retired (it must come back first), or back what is in the
// bin. What is lost or damaged is counted to the boat that it was with. Retiring a coil frees its
// code. Gives what was done, a sentence for each thing.
[[nodiscard]] Result<std::vector<std::string>> hand_over(Workshop& workshop,
                                                         const HandRequest& request);

// Where a thing is, in one sentence: "K7M3XM: in the wallet of rig R1, with boat Heron, since
// 2026-06-14 07:05 UTC (guide)". Says so where two copies disagreed.
[[nodiscard]] Result<std::string> where_is(Workshop& workshop, std::string_view code);
// All handovers of a thing, the last first: when, place, by, note.
[[nodiscard]] Result<void> write_custody_of(Workshop& workshop, std::string_view code,
                                            std::ostream& out, Format format,
                                            std::size_t terminal_width = 0);

// What there is of each class and where: class, bin, rig, boat, lent, damaged, lost, disputed,
// total.
void write_stock(Workshop& workshop, std::ostream& out, Format format,
                 std::size_t terminal_width = 0);
// What is out with boats now, which at the end of the day is what did not come back: boat, code,
// what, since, by, disputed. Gives how many.
std::size_t write_out(Workshop& workshop, std::ostream& out, Format format,
                      std::size_t terminal_width = 0);

}  // namespace coilbook::app
