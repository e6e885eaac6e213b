#include "db/guards_aside.h"

#include "base/error.h"
#include "db/connection.h"

namespace coilbook::db {
namespace {

void put(const Connection& connection, bool are_there) {
    connection.command(are_there ? "PRAGMA ignore_check_constraints = OFF"
                                 : "PRAGMA ignore_check_constraints = ON");
    int now = -1;
    const int code = sqlite3_db_config(connection.handle(), SQLITE_DBCONFIG_ENABLE_TRIGGER,
                                       are_there ? 1 : 0, &now);
    const bool checks = connection.number("PRAGMA ignore_check_constraints") == 0;
    if (code != SQLITE_OK || (now == 1) != are_there || checks != are_there) {
        connection.fail(code, "setting the guards of", connection.shown());
    }
}

}  // namespace

GuardsAside::GuardsAside(Transaction& transaction) : connection_(transaction.connection()) {
    try {
        put(connection_, false);
    } catch (...) {
        put(connection_, true);
        throw;
    }
}

GuardsAside::~GuardsAside() {
    put(connection_, true);  // an exception out of here ends the program
}

}  // namespace coilbook::db
