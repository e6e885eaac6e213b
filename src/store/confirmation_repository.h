// What people say that their coils are, and what the program had said then. Rows are only added: a
// confirmation without a class takes the last one back.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/coil.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

// The most probable value of a facet; an empty name says that 'none' was.
struct JudgedFacet {
    std::string name;
    double probability = 0.0;

    bool operator==(const JudgedFacet&) const = default;
};

// What the program said about a coil at one moment, in names: the library may change later.
struct VerdictSnapshot {
    Id<VerdictSnapshot> id;
    Id<Coil> coil;
    Instant at;
    JudgedFacet best_class;
    JudgedFacet grain_class, density_grade, line_size, family;
    double unlisted_probability = 0.0;
    std::string library;  // version or hash of the reference library
    std::string program;  // version of the program

    bool operator==(const VerdictSnapshot&) const = default;
};

class ConfirmationRepository {
  public:
    explicit ConfirmationRepository(const db::Database& database);

    // Adds a confirmation, with the verdict that it answers, if there was one. A Problem names a
    // class that the library does not have, and a taking back where nothing is confirmed.
    // Throws Error for a coil that the catalogue does not have and for probabilities that are none.
    // REQUIRES: the verdict is about the same coil.
    [[nodiscard]] Result<void> add(Act& act, const Confirmation& confirmation,
                                   const std::optional<VerdictSnapshot>& verdict = {});

    // What the coil is held to be now; nothing where nobody said or the last word took it back.
    // Throws Error, as all reading functions here do.
    [[nodiscard]] std::optional<Confirmation> current_of(const Id<Coil>& coil);
    // Everything that was said about the coil and not undone, oldest first.
    [[nodiscard]] std::vector<Confirmation> all_of(const Id<Coil>& coil);
    // The current one of every coil that has one, retired coils included, oldest first: what the
    // classes learn from.
    [[nodiscard]] std::vector<Confirmation> current();
    // The verdict that a confirmation answered, if any.
    [[nodiscard]] std::optional<VerdictSnapshot> verdict_of(const Id<Confirmation>& confirmation);

  private:
    db::Statement insert_;
    db::Statement insert_verdict_;
    db::Statement find_class_;
    db::Statement find_current_;
    db::Statement list_all_;
    db::Statement list_current_;
    db::Statement find_verdict_;
};

}  // namespace coilbook::store
