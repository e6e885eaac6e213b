// The coils in the bin, as the catalogue keeps them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/coil.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

// A line of the list of coils.
struct CoilListing {
    Coil coil;
    std::optional<std::string> confirmed_class;
    int readings = 0;  // current ones: neither superseded nor withdrawn

    bool operator==(const CoilListing&) const = default;
};

class CoilRepository {
  public:
    explicit CoilRepository(const db::Database& database);

    // Adds a coil. A Problem names a code that cannot stand on a label or that another coil has,
    // unless that one is retired. Throws Error for an id that is there already.
    [[nodiscard]] Result<void> add(Act& act, const Coil& coil);
    // Makes the coil of that id have this code and these notes, and retired or not; retired coils
    // keep their readings and free their code. The moment of retiring is the act's; made_at stays.
    // A Problem as with add, and for an id that no coil has.
    [[nodiscard]] Result<void> change(Act& act, const Coil& coil);

    // Throw Error where the file cannot be read, as all reading functions here do.
    [[nodiscard]] std::optional<Coil> by_id(const Id<Coil>& id);
    // Not among the retired. Of several, which there can be after a merge, the oldest.
    [[nodiscard]] std::optional<Coil> by_code(std::string_view code);
    // How many coils and rigs that are not retired go by that code.
    [[nodiscard]] int things_with(std::string_view code);
    // In the order of their codes (by bytes), the living before the retired of the same code.
    [[nodiscard]] std::vector<CoilListing> list(Page page = {}, bool with_retired = false);
    [[nodiscard]] int count(bool with_retired = false);
    // The codes of the coils that are not retired, in their order.
    [[nodiscard]] std::vector<std::string> codes();
    // Whether a coil, rig or client has that code or ever had it, retired and undone ones included.
    [[nodiscard]] bool ever_had(std::string_view code);

  private:
    [[nodiscard]] Result<void> check(const Coil& coil);

    db::Statement insert_;
    db::Statement update_;
    db::Statement find_by_id_;
    db::Statement find_by_code_;
    db::Statement count_with_code_;
    db::Statement list_;
    db::Statement count_;
    db::Statement codes_;
    db::Statement ever_had_;
};

// The coil in a row with the columns id, code, notes, made_at_utc and retired_at_utc.
[[nodiscard]] Coil coil_from(const db::Row& row);

}  // namespace coilbook::store
