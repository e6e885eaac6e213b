// Handing things out and taking them back, and asking where they are.
//
// Each call is one act. Everything that is in a rig goes with the rig.
#pragma once

#include <map>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/inventory.h"
#include "app/table.h"
#include "app/workshop.h"
#include "catalog/outing.h"

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
// bin; and for retiring a rig that still has something in it. What is lost or damaged is counted to
// the boat that it was with. Retiring a thing frees its code. Gives what was done, a sentence for
// each thing.
[[nodiscard]] Result<std::vector<std::string>> hand_over(Workshop& workshop,
                                                         const HandRequest& request);

// Where a thing is, in one sentence: "K7M3XM: in the wallet of rig R1, with boat Heron, since
// 2026-06-14 07:05 UTC (guide)". Says so where two copies disagreed.
[[nodiscard]] Result<std::string> where_is(Inventory& inventory, std::string_view code);
[[nodiscard]] Result<std::string> where_is(Workshop& workshop, std::string_view code);
// One handover in words: "2026-06-14 07:05", "with boat Heron".
struct CustodyLine {
    Instant at;
    std::string place, by, note;
};
// All handovers of a thing, the last first; none of what was never handed over. A Problem for a
// code that nothing has.
[[nodiscard]] Result<std::vector<CustodyLine>> custody_of(Workshop& workshop, Inventory& inventory,
                                                          std::string_view code);
[[nodiscard]] std::string minute_of(Instant at);  // "2026-06-14 07:05", of UTC
// The same as rows: at, place, by, note.
[[nodiscard]] Result<void> write_custody_of(Workshop& workshop, std::string_view code,
                                            std::ostream& out, Format format,
                                            std::size_t terminal_width = 0);

// The things that Inventory calls so, by code.
[[nodiscard]] std::vector<Thing> things_of(Inventory& inventory, std::string_view class_name);

// What there is of a class and where; what is in a rig is counted where the rig is. Retired coils
// are left out.
struct StockRow {
    std::string class_name;  // as Inventory has it
    std::map<Whereabouts, int> counts;
    int disputed = 0, total = 0;
    int promised = 0;  // on the coming day that needs most of them
    int missing = 0;   // on the coming day on which most are missing
};
// By class; a class that is only needed has a row, too. Coming days are `today` and later.
[[nodiscard]] std::vector<StockRow> stock_of(Workshop& workshop, Inventory& inventory, Day today);
// Columns: class, bin, rig, boat, lent, damaged, lost, disputed, total, promised, missing.
void write_stock(Workshop& workshop, std::ostream& out, Format format,
                 std::size_t terminal_width = 0);
// What is out with boats now, by boat and code, what is in a rig below it: at the end of the day,
// what did not come back.
struct OutThing {
    Thing thing;
    std::string boat, code, what;
    std::string within;  // "in the wallet of rig R1"; or empty
    Instant since;
    std::string by;
    bool is_disputed = false;
};
[[nodiscard]] std::vector<OutThing> things_out(Inventory& inventory);
// Columns: boat, code, what, within, since, by, disputed. Gives how many.
std::size_t write_out(Workshop& workshop, std::ostream& out, Format format,
                      std::size_t terminal_width = 0);

}  // namespace coilbook::app
