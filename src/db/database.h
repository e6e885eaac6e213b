// One SQLite file that is surely ours, opened safely even where it comes from a stranger.
//
// A file is taken only if it is an ordinary file with one name, whole, of this program's kind and
// not newer than the program; a refused file stays as it was, byte for byte, with nothing new
// beside it (a write-ahead log that was there stays). What is committed survives a power cut
// (write-ahead log, synchronous FULL); another program that writes is waited for up to 5 s. Leaves
// out: network drives and folders that a sync tool copies live, where SQLite cannot be safe. One
// Database serves one thread; copies of its pointer inside statements keep it alive.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/error.h"

namespace coilbook::db {

class Connection;
class LookingThrough;

// A file that is ours, but damaged: who catches it may go on with open_damaged.
class Damage : public Error {
  public:
    using Error::Error;
};

// What makes a file ours.
struct FileKind {
    std::int32_t application_id = 0;  // SQLite's mark of a program; not 0
    int newest_version = 0;           // the highest format (user_version) this program knows
    std::string name;                 // what people call such a file, for messages: "catalogue"
};

// When the inside of a file is looked through for damage: before it is read at all, or meanwhile.
enum class Looking { first, meanwhile };

class Database {
  public:
    // Opens an existing file, perhaps of an older version: see migration.h.
    // Throws Error, naming the file and what to do, for a file that is missing, a folder, a link,
    // one of several names, empty, not SQLite, another program's or newer, and where another
    // program holds it for more than 5 s; Damage for one that is cut off, and for one of up to
    // 64 MiB that is damaged as far as SQLite's quick check sees. In a larger one damage shows when
    // it is read, and to damage().
    // A file on read-only media, or that may not be written, is opened for reading: see
    // why_read_only(). It is then taken to stay as it is, since nobody's locks can be seen.
    // Looking::meanwhile is for somebody who waits for the first figures: SQLite's quick check then
    // goes on in a thread of its own and tells damage_seen(), and nothing is written before it is
    // over, nor where it finds damage. Any reading may throw Damage until then. Where opening
    // writes (an older version, a file without a log) it is done first all the same.
    [[nodiscard]] static Database open(const std::filesystem::path& file, const FileKind& kind,
                                       Looking looking = Looking::first);

    // Opens a damaged file for reading, to get out of it what can be got. Nothing in it is checked
    // and nothing written. Any later reading may throw. Throws Error for a file missing or newer.
    [[nodiscard]] static Database open_damaged(const std::filesystem::path& file,
                                               const FileKind& kind);

    // Creates a file of version 0, readable by its owner alone whatever the umask.
    // Throws Error where the name is taken or the folder does not exist; leaves nothing then.
    [[nodiscard]] static Database create(const std::filesystem::path& file, const FileKind& kind);

    // A database of version 0 that is gone with this value: for tests and for trying things out.
    [[nodiscard]] static Database in_memory(const FileKind& kind);

    [[nodiscard]] const FileKind& kind() const { return kind_; }
    // The file with its folder resolved; empty for a database in memory.
    [[nodiscard]] const std::filesystem::path& file() const { return file_; }
    // Why nothing can be written, and what to do about it; empty where it can.
    [[nodiscard]] const std::string& why_read_only() const { return why_read_only_; }
    // What the quick check has found wrong, in words; empty where it found nothing, or was done on
    // opening; nothing while it still goes on (Looking::meanwhile).
    [[nodiscard]] std::optional<std::string> damage_seen() const;
    // Waits until it is over; before anything is written. Throws Damage where it found some.
    void wait_until_sound();
    // For messages: the file's name in quotes, or "the catalogue in memory".
    [[nodiscard]] const std::string& shown() const;

    // The format that the file has now: the number of migrations applied. Throws Error.
    [[nodiscard]] int version() const;

    // A number that differs from an earlier one exactly when another connection (another program,
    // another window) has committed in between; own writes do not change it. Throws Error.
    [[nodiscard]] std::int64_t data_version() const;

    // Everything that SQLite finds wrong with the file, indexes and foreign keys included; empty
    // when it is whole. Reads the whole file. Throws Error.
    [[nodiscard]] std::vector<std::string> damage() const;

    // Writes the log back into the file and empties it. What is deleted is overwritten at once (see
    // connection.cpp), so nothing of it is left in either. Throws Error while another reads it.
    void wipe_deleted();

    // For this folder only.
    [[nodiscard]] const std::shared_ptr<Connection>& connection() const { return connection_; }

  private:
    Database(std::shared_ptr<Connection> connection, std::filesystem::path file, FileKind kind);

    std::shared_ptr<Connection> connection_;  // never null
    std::filesystem::path file_;
    FileKind kind_;
    std::string why_read_only_;
    std::shared_ptr<LookingThrough> looking_;  // until somebody writes; mostly none
};

}  // namespace coilbook::db
