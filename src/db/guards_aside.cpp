#include "db/guards_aside.h"

#include "db/connection.h"

namespace coilbook::db {
namespace {

void put(const Connection& connection, bool triggers, bool checks) {
    connection.command(checks ? "PRAGMA ignore_check_constraints = OFF"
                              : "PRAGMA ignore_check_constraints = ON");
    int now = -1;
    const int code = sqlite3_db_config(connection.handle(), SQLITE_DBCONFIG_ENABLE_TRIGGER,
                                       triggers ? 1 : 0, &now);
    const bool asks = connection.number("PRAGMA ignore_check_constraints") == 0;
    if (code != SQLITE_OK || (now == 1) != triggers || asks != checks) {
        connection.fail(code, "setting the guards of", connection.shown());
    }
}

}  // namespace

GuardsAside::GuardsAside(Transaction& transaction, Guards which)
    : connection_(transaction.connection()) {
    try {
        put(connection_, false, which == Guards::triggers);
    } catch (...) {
        put(connection_, true, true);
        throw;
    }
}

GuardsAside::~GuardsAside() {
    put(connection_, true, true);  // an exception out of here ends the program
}

}  // namespace coilbook::db
