// The pictures that photographs show: their bytes, each picture once, known by its SHA-256.
//
// They lie beside the history, in pieces, since a cell holds at most a million bytes. What a
// picture is of, and what may be one at all, is not their matter.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "db/statement.h"
#include "store/act.h"

namespace coilbook::store {

// The SHA-256 of these bytes, 64 digits 0-9a-f.
[[nodiscard]] std::string digest_of_picture(std::string_view bytes);

// The digests of pictures that photographs show and that are not there, or not as they were. Reads
// every picture. Throws Error.
[[nodiscard]] std::set<std::string> lost_pictures(const db::Database& database);

class PictureRepository {
  public:
    explicit PictureRepository(const db::Database& database);

    // Keeps a picture. One that is there is left as it is, and one that is not as it was gives way
    // to it: then, and where it is new, true. REQUIRES: `sha256` is the digest of `bytes`.
    bool keep(Act& act, std::string_view sha256, std::string_view bytes);
    // The same for the picture of a photograph that is there: where it was lost or damaged, the
    // history notes that it is back.
    bool bring_back(Act& act, std::string_view photograph, std::string_view sha256,
                    std::string_view bytes);
    // The picture's bytes; nothing where it is not there, as after a pruning, or not as it was.
    [[nodiscard]] std::optional<std::string> bytes_of(std::string_view sha256);

  private:
    db::Statement insert_piece_;
    db::Statement delete_pieces_;
    db::Statement pieces_;
    db::Statement note_;
};

}  // namespace coilbook::store
