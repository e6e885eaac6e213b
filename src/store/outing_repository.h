// Boats, and outings with what they are to carry. Clients have a page of their own
// (client_repository.h), since they are people.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "catalog/outing.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

class OutingRepository {
  public:
    explicit OutingRepository(const db::Database& database);

    // A Problem for a name that is empty, longer than 60 bytes, not plain, or another living
    // boat's.
    [[nodiscard]] Result<void> add_boat(Act& act, const Boat& boat);
    // Makes the boat of that id as told; made_at stays. A Problem as with add_boat, and for no such
    // boat. Whether it may be retired is asked elsewhere.
    [[nodiscard]] Result<void> change_boat(Act& act, const Boat& boat);
    // Throws Error for a boat or client that is not there; so does add for what it names.
    void add_outing(Act& act, const Outing& outing);
    // What is promised stays promised to it, but counts no longer.
    void cancel_outing(Act& act, const Id<Outing>& outing);
    // A Problem for a class without a name and a count outside 1 … 999.
    [[nodiscard]] Result<void> add_promise(Act& act, const Promise& promise);
    void withdraw_promise(Act& act, const Id<Promise>& promise);

    // Throw Error where the file cannot be read. Capitals do not count in a boat's name.
    [[nodiscard]] std::optional<Boat> boat_named(std::string_view name);
    [[nodiscard]] std::vector<Boat> boats(bool with_retired = false);  // by name
    // Those that are not cancelled, in the order in which they were made.
    [[nodiscard]] std::vector<Outing> outings_on(Day day);
    // Days that have an outing, the last one first.
    [[nodiscard]] std::vector<Day> days();
    // Of the outings of the day that are not cancelled, withdrawn ones left out, in their order.
    [[nodiscard]] std::vector<Promise> promises_on(Day day);

  private:
    [[nodiscard]] Result<void> check(const Boat& boat);

    db::Statement insert_boat_;
    db::Statement change_boat_;
    db::Statement insert_outing_;
    db::Statement cancel_outing_;
    db::Statement insert_promise_;
    db::Statement withdraw_promise_;
    db::Statement list_boats_;
    db::Statement list_outings_;
    db::Statement list_days_;
    db::Statement list_promises_;
};

}  // namespace coilbook::store
