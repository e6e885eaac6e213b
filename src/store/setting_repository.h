// Small things that a catalogue remembers by name, such as the water it is used in.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

class SettingRepository {
  public:
    explicit SettingRepository(const db::Database& database);

    // A Problem for a name or value that is not plain text. REQUIRES: the name is not empty.
    [[nodiscard]] Result<void> put(Act& act, std::string_view name, std::string_view value);
    // Nothing happens where there is no such setting.
    void clear(Act& act, std::string_view name);

    // Throw Error where the file cannot be read.
    [[nodiscard]] std::optional<std::string> get(std::string_view name);
    [[nodiscard]] std::map<std::string, std::string> all();

  private:
    db::Statement upsert_;
    db::Statement delete_;
    db::Statement find_;
    db::Statement list_;
};

}  // namespace coilbook::store
