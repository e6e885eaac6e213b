// Taking an act back, and taking that back again.
//
// An undo is a new act that gives the rows the act changed what they held before: fields go back,
// and a row that came to be counts no longer (is_undone), so nothing is ever deleted. Acts that
// stand are those that nothing has taken back; what the catalogue holds is what they made of it,
// in their order. Therefore an act cannot be taken back while a later standing act has changed the
// same field, or made something that hangs on it: a reading of the coil, a correction of the
// reading, a later word on what the coil is. The other way round, a redo is possible only until
// something new is done.
//
// Where copies were merged, what the act did not know of stays: a field goes back to what somebody
// else made of it meanwhile, and where that was itself taken back elsewhere, the undo is refused.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "db/statement.h"
#include "store/act.h"
#include "store/history_repository.h"
#include "store/rows.h"

namespace coilbook::store {

class Undoing {
  public:
    explicit Undoing(const db::Database& database);

    // The act that an undo without a name would take back: the last one that stands. Nothing where
    // none does. Throws Error, as all functions here do.
    [[nodiscard]] std::optional<HistoryEntry> next_undo();
    // The act that a redo would do again: the last one taken back, unless something new was done
    // since. The entry is the act's own, not its undo's.
    [[nodiscard]] std::optional<HistoryEntry> next_redo();

    // The later act that stands in the way of taking this one back, the last one of several;
    // nothing where the way is free. REQUIRES: the act stands.
    [[nodiscard]] std::optional<HistoryEntry> obstacle(const Id<Act>& target);

    // Takes `target` back. A Problem, and nothing has happened, for an act that the history does
    // not have, that is an undo or redo itself or was taken back already, and where a later act
    // stands in the way, which it names.
    [[nodiscard]] Result<void> undo(Act& act, const Id<Act>& target);
    // Does `target` again. A Problem unless it is the one that next_redo gives.
    [[nodiscard]] Result<void> redo(Act& act, const Id<Act>& target);

  private:
    struct Field {
        std::string name;
        db::Value was, became;
    };
    // What one statement changed of one thing.
    struct Step {
        std::string table;
        std::string thing;
        std::vector<Field> fields;
    };

    // Whether it says that a thing was lost (salvage.h).
    [[nodiscard]] static bool is_loss(const Step& step);
    // Whether it is a salvage's own, which fills the gaps of the history as well as it can.
    [[nodiscard]] static bool is_salvage(const Step& step);
    // Whether it changed or erased what a client is called, which has no history.
    [[nodiscard]] static bool is_about_a_person(const Step& step);
    [[nodiscard]] std::optional<HistoryEntry> entry_of(const Id<Act>& id);
    [[nodiscard]] std::int64_t rid_of(const Id<Act>& id);
    [[nodiscard]] std::vector<Step> steps_of(std::int64_t act);
    [[nodiscard]] bool came_in_twice(std::int64_t act, const Step& step, bool in_any_state = false);
    [[nodiscard]] Result<void> bring_back_what_came_twice(Act& act, std::int64_t target);
    [[nodiscard]] std::optional<std::int64_t> obstacle_to(std::int64_t act,
                                                          const std::vector<Step>& steps);
    [[nodiscard]] Result<void> take_back(Act& act, std::int64_t undone);
    [[nodiscard]] Result<void> take_back(Act& act, std::int64_t undone, const Step& step);
    // What the field held before the act, or what another act made of it that neither knew of.
    [[nodiscard]] db::Value value_before(std::int64_t act, const Step& step, const Field& field);
    // Puts that into the steps, and takes out those whose thing another act brought in as well.
    void look_up_what_was(std::int64_t undone, std::vector<Step>& steps);
    // For a field that no longer holds what the act made of it.
    [[nodiscard]] tl::unexpected<Problem> changed_since(std::int64_t act, const Step& step);
    // For a coil whose code another coil has by now.
    [[nodiscard]] tl::unexpected<Problem> problem_of_code(std::int64_t undone,
                                                          const std::string& coil);

    db::Database database_;
    db::Statement find_;
    db::Statement find_at_;
    db::Statement find_rid_;
    db::Statement last_done_;
    db::Statement trail_;
    db::Statement undone_by_;
    db::Statement changes_;
    db::Statement any_later_;
    db::Statement standing_before_;
    db::Statement last_change_;
    db::Statement other_birth_;
    db::Statement later_change_;
    std::map<std::string, db::Statement, std::less<>> hangs_on_;  // by table
    std::map<std::string, db::Statement, std::less<>> restore_;
    db::Statement other_with_code_;
    db::Statement was_pruned_;
    db::Statement was_salvaged_;
    db::Statement setting_;
    db::Statement put_setting_;
    db::Statement drop_setting_;
    db::Statement insert_;
};

}  // namespace coilbook::store
