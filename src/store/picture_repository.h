// The pictures that photographs show: their bytes, each picture once, known by its SHA-256.
//
// They lie beside the history, in pieces, since a cell holds at most a million bytes. What a
// picture is of, and what may be one at all, is not their matter.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "db/statement.h"
#include "store/act.h"

namespace coilbook::store {

// The SHA-256 of these bytes, 64 digits 0-9a-f.
[[nodiscard]] std::string digest_of_picture(std::string_view bytes);

class PictureRepository {
  public:
    explicit PictureRepository(const db::Database& database);

    // Keeps a picture, which may be there already. REQUIRES: `sha256` is its digest.
    void keep(Act& act, std::string_view sha256, std::string_view bytes);
    // The picture's bytes; nothing where it is not there, as after a pruning. Throws Error where
    // they are not what they were.
    [[nodiscard]] std::optional<std::string> bytes_of(std::string_view sha256);

  private:
    db::Statement insert_piece_;
    db::Statement pieces_;
};

}  // namespace coilbook::store
