#include "store/picture_repository.h"

#include "db/digest.h"

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

PictureRepository::PictureRepository(const db::Database& database)
    : insert_piece_(database, R"sql(
          INSERT INTO picture_piece (sha256, position, bytes) VALUES (:sha256, :position, :bytes)
          ON CONFLICT (sha256, position) DO NOTHING)sql"),
      pieces_(database, R"sql(
          SELECT bytes FROM picture_piece WHERE sha256 = :sha256 ORDER BY position)sql") {}

void PictureRepository::keep(Act& act, std::string_view sha256, std::string_view bytes) {
    int position = 0;
    for (std::size_t at = 0; at < bytes.size(); at += piece_size) {
        insert_piece_.bind(":sha256", sha256)
            .bind(":position", position++)
            .bind_bytes(":bytes", bytes.substr(at, piece_size))
            .run(act.transaction());
    }
}

std::optional<std::string> PictureRepository::bytes_of(std::string_view sha256) {
    std::string bytes;
    pieces_.bind(":sha256", sha256);
    for (auto rows = pieces_.rows(); rows.next();) bytes += rows.row().bytes("bytes");
    if (bytes.empty()) return std::nullopt;
    if (digest_of_picture(bytes) != sha256) {
        throw Error(
            "the catalogue is damaged in a photograph, which 'coilbook check' names: its bytes "
            "are not what they were");
    }
    return bytes;
}

}  // namespace coilbook::store
