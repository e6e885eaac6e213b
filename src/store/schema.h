// The numbered steps of schema/, embedded when the program is built.
#pragma once

#include <span>

#include "db/migration.h"

namespace coilbook::store {

[[nodiscard]] std::span<const db::Migration> schema_steps();

}  // namespace coilbook::store
