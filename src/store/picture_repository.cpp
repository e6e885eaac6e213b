#include "store/picture_repository.h"

#include "db/digest.h"
#include "db/guards_aside.h"

namespace coilbook::store {
namespace {

// A cell holds at most a million bytes (db/connection.cpp).
constexpr std::size_t piece_size = 500'000;

}  // namespace

std::string digest_of_picture(std::string_view bytes) {
    db::Digest digest;
    digest.add_raw(bytes);
    return digest.finish();
}

std::set<std::string> lost_pictures(const db::Database& database) {
    db::Statement list(database, R"sql(
        SELECT DISTINCT sha256 FROM current_photograph ORDER BY sha256)sql");
    PictureRepository pictures(database);
    std::set<std::string> lost;
    for (auto rows = list.rows(); rows.next();) {
        auto sha256 = rows.row().text("sha256");
        if (!pictures.bytes_of(sha256)) lost.insert(std::move(sha256));
    }
    return lost;
}

PictureRepository::PictureRepository(const db::Database& database)
    : insert_piece_(database, R"sql(
          INSERT INTO picture_piece (sha256, position, bytes)
          VALUES (:sha256, :position, :bytes))sql"),
      delete_pieces_(database, "DELETE FROM picture_piece WHERE sha256 = :sha256"),
      pieces_(database, R"sql(
          SELECT bytes FROM picture_piece WHERE sha256 = :sha256 ORDER BY position)sql"),
      // No field of its row changes.
      note_(database, R"sql(
          INSERT INTO change (act, thing_table, thing, field, was, became)
          SELECT act, 'photograph', :photograph, 'is_undone', 0, 0 FROM open_act)sql") {}

bool PictureRepository::keep(Act& act, std::string_view sha256, std::string_view bytes) {
    if (bytes_of(sha256)) return false;
    {
        // What is damaged is nobody's word, and may go.
        const db::GuardsAside aside(act.transaction(), db::Guards::triggers);
        delete_pieces_.bind(":sha256", sha256).run(act.transaction());
    }
    int position = 0;
    for (std::size_t at = 0; at < bytes.size(); at += piece_size) {
        insert_piece_.bind(":sha256", sha256)
            .bind(":position", position++)
            .bind_bytes(":bytes", bytes.substr(at, piece_size))
            .run(act.transaction());
    }
    return true;
}

bool PictureRepository::bring_back(Act& act, std::string_view photograph, std::string_view sha256,
                                   std::string_view bytes) {
    if (!keep(act, sha256, bytes)) return false;
    note_.bind(":photograph", photograph).run(act.transaction());
    return true;
}

std::optional<std::string> PictureRepository::bytes_of(std::string_view sha256) {
    std::string bytes;
    pieces_.bind(":sha256", sha256);
    for (auto rows = pieces_.rows(); rows.next();) bytes += rows.row().bytes("bytes");
    if (bytes.empty() || digest_of_picture(bytes) != sha256) return std::nullopt;
    return bytes;
}

}  // namespace coilbook::store
