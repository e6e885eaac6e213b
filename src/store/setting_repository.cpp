#include "store/setting_repository.h"

#include <utility>

namespace coilbook::store {

SettingRepository::SettingRepository(const db::Database& database)
    : upsert_(database, R"sql(
          INSERT INTO setting (name, value) VALUES (:name, :value)
          ON CONFLICT (name) DO UPDATE SET value = excluded.value)sql"),
      delete_(database, "DELETE FROM setting WHERE name = :name"),
      find_(database, "SELECT value FROM setting WHERE name = :name"),
      list_(database, "SELECT name, value FROM setting ORDER BY name") {}

Result<void> SettingRepository::put(Act& act, std::string_view name, std::string_view value) {
    for (const auto text : {name, value}) {
        if (const auto plain = check_plain("setting", text); !plain) return plain;
    }
    upsert_.bind(":name", name).bind(":value", value).run(act.transaction());
    return {};
}

void SettingRepository::clear(Act& act, std::string_view name) {
    delete_.bind(":name", name).run(act.transaction());
}

std::optional<std::string> SettingRepository::get(std::string_view name) {
    return find_.bind(":name", name).first([](const db::Row& row) { return row.text("value"); });
}

std::map<std::string, std::string> SettingRepository::all() {
    std::map<std::string, std::string> settings;
    for (auto rows = list_.rows(); rows.next();) {
        settings.emplace(rows.row().text("name"), rows.row().text("value"));
    }
    return settings;
}

}  // namespace coilbook::store
