// Writing rows as they are, for who makes whole tables anew out of something else.
#pragma once

#include <memory>

#include "db/database.h"

namespace coilbook::db {

// While it lives, no trigger of this database fires and no foreign key is looked at: rows come in
// any order, and who brings them in checks the whole (Database::damage). REQUIRES: made before the
// transaction and gone after it.
class RawWriting {
  public:
    explicit RawWriting(const Database& database);
    ~RawWriting();
    RawWriting(const RawWriting&) = delete;
    RawWriting& operator=(const RawWriting&) = delete;

  private:
    std::shared_ptr<Connection> connection_;
};

}  // namespace coilbook::db
