// What comes before the first change of a day, begun before that is asked for: when somebody begins
// to type.
//
// A thread of its own, with a connection of its own, looks the catalogue through and makes the
// day's backup (backups.h). Whoever then makes the first change finds both done, as if another
// program had been first, and only waits where they are not over yet
// (Workshop::wait_before_first_change). Where damage is found, or the backup cannot be made,
// nothing is done: the change finds it again, and says so.
#pragma once

#include <atomic>
#include <filesystem>
#include <thread>

#include "app/progress.h"
#include "app/surroundings.h"

namespace coilbook::app {

class EarlyCare {
  public:
    // Begins at once, for the day that it is.
    EarlyCare(std::filesystem::path file, const Surroundings& surroundings);
    // Breaks it off, and waits for its end.
    ~EarlyCare();
    EarlyCare(const EarlyCare&) = delete;
    EarlyCare& operator=(const EarlyCare&) = delete;

    // Waits for its end, and tells `progress` how far it is; that may break off the waiting.
    void wait(Progress& progress) const;

  private:
    Progress progress_;  // its own
    std::atomic<bool> is_over_ = false;
    std::thread thread_;
};

}  // namespace coilbook::app
