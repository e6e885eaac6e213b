#include "db/breakable.h"

#include "db/connection.h"

namespace coilbook::db {

Breakable::Breakable(const Database& database, const std::function<bool()>& is_unwanted)
    : connection_(database.connection()) {
    if (is_unwanted && is_unwanted()) throw BrokenOff{};
    connection_->break_off_when(is_unwanted);
}

Breakable::~Breakable() {
    connection_->break_off_when({});
}

}  // namespace coilbook::db
