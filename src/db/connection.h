// SQLite's handle, for this folder only: the safe settings, our own commands, and errors in words.
//
// Everything that begins, ends or configures goes through command(). What others prepare on this
// handle is watched: it may neither begin nor end a transaction, nor attach another file, nor
// change a setting (an authorizer refuses these while the statement is prepared).
#pragma once

#include <SQLiteCpp/Database.h>
#include <sqlite3.h>

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace coilbook::db {

// How files are opened: they are there already, and their last part is not a link.
inline constexpr int existing_file = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOFOLLOW;
inline constexpr int unwritable_file =
    SQLITE_OPEN_READONLY | SQLITE_OPEN_NOFOLLOW | SQLITE_OPEN_URI;

class Connection {
  public:
    // Opens `file` with SQLite's open `flags`; nothing is read or written yet.
    // `shown` names the file in messages. Throws Error where SQLite cannot open it.
    Connection(const std::string& file, int flags, std::string shown);
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;

    [[nodiscard]] sqlite3* handle() const { return sqlite_.getHandle(); }
    [[nodiscard]] SQLite::Database& sqlite() { return sqlite_; }
    [[nodiscard]] const std::string& shown() const { return shown_; }
    // Another connection to the same file, opened in the same way.
    [[nodiscard]] Connection again() const { return {file_, flags_, shown_}; }

    // Refuses tricks that a stranger's file may hold, and turns foreign keys on. Does not read the
    // file. Source of the list: SQLite's documentation, security.html, section 1.2.
    void set_safe();

    // Runs a statement of our own: BEGIN, COMMIT, PRAGMA. Throws Error.
    void command(const char* sql) const;
    // Runs a script from elsewhere, watched as said above. Throws Error.
    void script(const std::string& sql) const;
    // The first column of a query of our own: of all rows, or of the first (0 or "" where there is
    // none or it is NULL). Throws Error.
    [[nodiscard]] std::vector<std::string> words(const char* sql) const;
    [[nodiscard]] std::string word(const char* sql) const;
    [[nodiscard]] std::int64_t number(const char* sql) const;

    // From now on `is_unwanted` is asked while a statement runs, and by whoever works in pieces;
    // where it says yes, fail() throws BrokenOff instead. Without a function nothing is asked.
    void break_off_when(std::function<bool()> is_unwanted);
    [[nodiscard]] const std::function<bool()>& is_unwanted() const { return is_unwanted_; }
    // Throws BrokenOff where SQLite's answer `code` comes of that.
    void end_if_unwanted(int code) const;

    [[nodiscard]] bool in_transaction() const { return sqlite3_get_autocommit(handle()) == 0; }

    // What SQLite's last answer `code` means, and what to do about it.
    [[nodiscard]] std::string in_words(int code) const;
    // Throws the Error for SQLite's answer `code` to doing `step` with `sql`: "running 'INSERT …':
    // UNIQUE constraint failed: …", or what happened to the file and what to do about it.
    [[noreturn]] void fail(int code, const char* step, std::string_view sql) const;

  private:
    SQLite::Database sqlite_;
    std::string file_;
    int flags_;
    std::string shown_;
    std::function<bool()> is_unwanted_;
    mutable bool trusted_ = false;  // while a command of our own is prepared
};

// `sql` on one line, in quotes, cut where it is long: for messages.
[[nodiscard]] std::string shown_sql(std::string_view sql);

// SQLITE_FULL where SQLite's answer `code` comes of a disk without room, else `code`. SQLite itself
// says so only of some writes, and of others that the disk refused them: where the log beside a
// file cannot be begun, say. `system_error` is the system's errno, `room` the bytes that are free
// beside the file.
[[nodiscard]] int cause_of(int code, int system_error, std::uintmax_t room);

// What SQLite's answer `code` means for the file `shown`, and what to do; else `text` as it is.
[[nodiscard]] std::string in_words(int code, const std::string& shown, const std::string& text);

}  // namespace coilbook::db
