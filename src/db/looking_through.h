// SQLite's quick check of a file that somebody reads already: on a connection of its own, in a
// thread of its own, so that nobody waits for it. For this folder only.
#pragma once

#include <atomic>
#include <string>
#include <thread>

#include "db/connection.h"

namespace coilbook::db {

class LookingThrough {
  public:
    // Begins. `reading` is the connection that reads meanwhile; the file is opened once more in the
    // same way, and nothing is written. Throws Error where that fails.
    explicit LookingThrough(const Connection& reading);
    // Breaks it off, where it is not over.
    ~LookingThrough();
    LookingThrough(const LookingThrough&) = delete;
    LookingThrough& operator=(const LookingThrough&) = delete;

    [[nodiscard]] bool is_over() const { return is_over_; }
    // Waits until it is over. Gives what is wrong, in words that name the file; empty where it is
    // whole. One thread asks.
    [[nodiscard]] const std::string& found();

  private:
    Connection connection_;
    std::string found_;  // of the thread's until it is over
    std::atomic<bool> is_over_ = false;
    std::thread thread_;
};

// What SQLite's quick check finds wrong first, in words that name the file; empty for nothing.
// Throws Damage or Error where the file cannot even be read.
[[nodiscard]] std::string first_damage(const Connection& connection);

}  // namespace coilbook::db
