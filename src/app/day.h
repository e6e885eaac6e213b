// The day: which boat goes out with whom and what, what is wrong with the plan, and packing lists.
#pragma once

#include <filesystem>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/inventory.h"
#include "app/table.h"
#include "app/workshop.h"
#include "labels/pages.h"
#include "outings/plan.h"

namespace coilbook::app {

// A boat goes out on a day, with a client or without.
[[nodiscard]] Result<Outing> add_outing(Workshop& workshop, Day day, std::string_view boat,
                                        std::string_view client = {});
// Calls off all outings of the boat on that day. A Problem where there is none.
[[nodiscard]] Result<int> cancel_outings(Workshop& workshop, Day day, std::string_view boat);

// The first outing of the boat on that day, or that with the client, is to carry these things. A
// Problem where there is no such outing, and for a code that nothing has. What is promised twice is
// taken down all the same: problems_of tells it.
[[nodiscard]] Result<void> promise_things(Workshop& workshop, Day day, std::string_view boat,
                                          std::string_view client,
                                          const std::vector<std::string>& codes);
// … or so many of a class of the library.
[[nodiscard]] Result<void> promise_class(Workshop& workshop, Day day, std::string_view boat,
                                         std::string_view client, std::string_view class_name,
                                         int count);
// Takes back what the boat was promised on that day by these codes. A Problem where it was not.
[[nodiscard]] Result<int> withdraw_promises(Workshop& workshop, Day day, std::string_view boat,
                                            const std::vector<std::string>& codes);

// Columns: day, boat, client, carries. `client` is the code; a name only if asked for. Of one day,
// or of all.
void write_outings(Workshop& workshop, std::optional<Day> day, bool with_names, std::ostream& out,
                   Format format, std::size_t terminal_width = 0);

// One thing that is wrong with a day's plan.
struct PlanProblem {
    std::string kind;      // "promised twice", "too few", "no fast tip", "not at hand"
    std::string boat;      // its name, where it is one boat's
    std::string what;      // code, class, or "size 8"
    std::string sentence;  // for people, with what would help

    bool operator==(const PlanProblem&) const = default;
};
// All that is wrong with the plan of the day.
[[nodiscard]] std::vector<PlanProblem> problems_of(Workshop& workshop, Day day);
// Columns: kind, boat, what, detail. Gives how many.
std::size_t write_problems(Workshop& workshop, Day day, std::ostream& out, Format format,
                           std::size_t terminal_width = 0);

// The packing list of a boat for a day. What is with the boat already is ticked: handing out is
// ticking. A rig's wallet stands below it. Clients by their codes, by name only if asked for.
[[nodiscard]] Result<labels::PackingList> packing_list(Workshop& workshop, Day day,
                                                       std::string_view boat,
                                                       bool with_names = false);
// Columns: ticked, code, what, within.
void write_packing_list(const labels::PackingList& list, std::ostream& out, Format format,
                        std::size_t terminal_width = 0);

}  // namespace coilbook::app
