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

// The day that the calendar at home has now, by the computer's time zone.
[[nodiscard]] Day today(const Workshop& workshop);

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
// Takes back what the boat was promised on that day by these codes, or by the names of classes. A
// Problem where it was not.
[[nodiscard]] Result<int> withdraw_promises(Workshop& workshop, Day day, std::string_view boat,
                                            const std::vector<std::string>& codes);

// Columns: day, boat, client, carries. `client` is the code; a name only if asked for. Of one day,
// or of all.
void write_outings(Workshop& workshop, std::optional<Day> day, bool with_names, std::ostream& out,
                   Format format, std::size_t terminal_width = 0);

// One thing that is wrong with a day's plan.
struct PlanProblem {
    // "promised twice", "too few", "no fast tip", "not at hand", "too many people"
    std::string kind;
    std::string boat;                          // its name, where it is one boat's
    std::string what;                          // code, class, or "size 8"
    std::string sentence;                      // for people, with what would help
    std::vector<std::string> would_help = {};  // codes of things to carry as well; at most three

    bool operator==(const PlanProblem&) const = default;
};
// All that is wrong with the plan of the day.
[[nodiscard]] std::vector<PlanProblem> problems_of(Workshop& workshop, Inventory& inventory,
                                                   Day day);
// Columns: kind, boat, what, detail. Gives how many.
std::size_t write_problems(Workshop& workshop, Day day, std::ostream& out, Format format,
                           std::size_t terminal_width = 0);

// Something that a boat carries, or is to carry.
struct Carried {
    std::string code;        // of a thing; empty for a need by count
    std::string class_name;  // of a need by count
    std::string what;        // "rig, size 8: blue two-hander", "2 x T-11, 1 aboard"
    bool is_ticked = false;  // with the boat already: handing out is ticking
    bool is_within = false;  // in the rig above, or counted for the need above
    bool is_planned = true;  // else it is aboard and nobody planned it
};
struct BoatDay {
    Boat boat;
    std::vector<std::string> clients;
    std::vector<Carried> carries;       // as planned, then what is aboard besides
    std::vector<PlanProblem> problems;  // that concern it
};
// What every boat that goes out on the day carries, in the order in which they were planned.
// Clients by their codes, by name only if asked for.
[[nodiscard]] std::vector<BoatDay> boats_on(Workshop& workshop, Inventory& inventory, Day day,
                                            bool with_names);

// What is said of wading, boats, hooks and sinking lines before anybody goes out, a sentence each.
// Usual cautions, no published source.
[[nodiscard]] const std::vector<std::string>& cautions();

// The packing list of a boat for a day.
[[nodiscard]] Result<labels::PackingList> packing_list(Workshop& workshop, Day day,
                                                       std::string_view boat,
                                                       bool with_names = false);
// Writes it as a PDF beside the catalogue, on Letter paper; gives the file. Clients by their codes.
[[nodiscard]] Result<std::filesystem::path> save_packing_list(Workshop& workshop, Day day,
                                                              std::string_view boat);
// Columns: ticked, code, what, within.
void write_packing_list(const labels::PackingList& list, std::ostream& out, Format format,
                        std::size_t terminal_width = 0);

}  // namespace coilbook::app
