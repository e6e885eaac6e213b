// Work on a database that a person may have had enough of before it is over.
#pragma once

#include <functional>
#include <memory>

#include "base/broken_off.h"
#include "db/database.h"

namespace coilbook::db {

// While it lives, what runs on the database asks `is_unwanted` some hundred times a second. Where
// that says yes, the statement ends by BrokenOff, and so does back_up(); a transaction that this
// passes is rolled back as by a failure. Without a function nothing is asked. They do not nest.
class Breakable {
  public:
    // Throws BrokenOff where it is not wanted already.
    Breakable(const Database& database, const std::function<bool()>& is_unwanted);
    ~Breakable();
    Breakable(const Breakable&) = delete;
    Breakable& operator=(const Breakable&) = delete;

  private:
    std::shared_ptr<Connection> connection_;
};

}  // namespace coilbook::db
