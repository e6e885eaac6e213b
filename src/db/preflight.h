// Whether a file may be opened at all: asked of the file system and of the file's first 100 bytes,
// before SQLite reads anything. For this folder only.
//
// The bytes are read through SQLite's own handle: opening and closing the file a second time in
// one process would drop the locks of a connection that is open already (POSIX locks belong to the
// process, not to the handle).
#pragma once

#include <array>
#include <filesystem>

#include "db/connection.h"
#include "db/database.h"

namespace coilbook::db {

// `file` with its folder resolved, so that only its last part could still be a link.
// Throws Error where the folder does not exist or is not a folder.
[[nodiscard]] std::filesystem::path with_real_folder(const std::filesystem::path& file);

// Throws Error, naming the file and what to do, unless `file` is an ordinary, not empty file with
// one name. Opens nothing.
void check_outside(const std::filesystem::path& file, const FileKind& kind);

// Why `file` cannot be written, and what to do about it; empty where it can.
[[nodiscard]] std::string why_unwritable(const std::filesystem::path& file);

// Throws Error unless the first 100 bytes of what `connection` has open are those of a whole
// database of this kind that is not newer than this program (Damage, if its end is cut off). Leaves
// no -wal or -shm behind.
void check_header(const Connection& connection, const std::filesystem::path& file,
                  const FileKind& kind);

// The same of a file of this kind that may be damaged, and only whether it is newer; what is not
// even known for one of this kind passes.
void check_not_newer(const Connection& connection, const FileKind& kind);

// Whether a file that begins with these bytes is a database of this kind, whatever else it is, or
// one of which nothing was written yet: zeros.
[[nodiscard]] bool may_be_begun(const std::array<unsigned char, 100>& beginning,
                                const FileKind& kind);

// Creates an empty file that only its owner can read and write, whatever the umask. Throws Error
// where the name is taken. (SQLite itself would create files, and copies, that everyone can read.)
void create_private(const std::filesystem::path& file);

// The sentence for a file that a newer program has written.
[[nodiscard]] std::string newer_sentence(const std::string& shown, std::int64_t version,
                                         const FileKind& kind);

}  // namespace coilbook::db
