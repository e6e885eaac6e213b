// The clients. What they are called and are like is personal data: it stands in a table of its own
// that the history does not follow and no seal covers, so that forget() leaves nothing of it
// behind.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "catalog/outing.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

class ClientRepository {
  public:
    explicit ClientRepository(const db::Database& database);

    // Adds a client with what is known of the person. A Problem for a name that is empty or longer
    // than 200 bytes, text that is not plain, and another hand than left or right.
    // REQUIRES: client.person, and a code that no client has.
    [[nodiscard]] Result<void> add(Act& act, const Client& client);
    // What the person is called and is like, told anew: what was told before is gone, and no undo
    // brings it back. A Problem as with add, and for a client who is not there or was forgotten.
    // REQUIRES: client.person.
    [[nodiscard]] Result<void> change(Act& act, const Client& client);
    // Erases the person for good; the client stays, by its code. There is no undo.
    void forget(Act& act, const Id<Client>& client);

    // Throw Error where the file cannot be read. By code or, in any capitals, by name; forgotten
    // and undone ones only by code.
    [[nodiscard]] std::vector<Client> called(std::string_view code_or_name);
    [[nodiscard]] std::optional<Client> by_id(const Id<Client>& id);
    [[nodiscard]] std::vector<Client> list();  // by name, the forgotten last
    // Where else in the catalogue these words stand, as "act … of 2026-06-14" or "notes of coil
    // A7": people may have typed a name anywhere. At most 100.
    [[nodiscard]] std::vector<std::string> mentions_of(std::string_view words);

  private:
    db::Statement insert_;
    db::Statement insert_person_;
    db::Statement tell_;
    db::Statement change_person_;
    db::Statement forget_;
    db::Statement list_;
    db::Statement mentions_;
};

}  // namespace coilbook::store
