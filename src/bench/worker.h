// The window's other hand: whatever a page does is done on a thread of its own, while the window
// keeps on drawing and listening.
//
// Mostly that is over before anybody notices, and the window waits for it. What takes longer is
// shown with how far it is (app/progress.h); Esc breaks it off, and everything is as it was before.
// Meanwhile nobody but this thread touches the pages and their catalogue: the window shows what it
// drew last, and keys wait in the input queue, in their order, so that what is typed never meets a
// catalogue that is half written.
#pragma once

#include <chrono>
#include <condition_variable>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>

#include "app/progress.h"

namespace coilbook::bench {

class Worker {
  public:
    // `progress` is what the work tells.
    explicit Worker(std::shared_ptr<app::Progress> progress);
    // Breaks off what goes on, and waits for its end.
    ~Worker();
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;

    // Begins it, and waits for its end for at most `patience`. BrokenOff ends it without a word.
    // REQUIRES: nothing is at work.
    void begin(std::function<void()> work, std::chrono::milliseconds patience);
    // Something was begun, and its end was not asked for yet.
    [[nodiscard]] bool is_at_work() const { return is_at_work_; }
    // Gives whether it is over, and then takes its end; throws what it threw.
    bool is_over();

    [[nodiscard]] app::Progress& progress() const { return *progress_; }
    [[nodiscard]] std::chrono::milliseconds lasted() const;

  private:
    void live();

    std::shared_ptr<app::Progress> progress_;
    bool is_at_work_ = false;  // for who waits
    std::chrono::steady_clock::time_point begun_;
    std::mutex in_use_;
    std::condition_variable changed_;
    std::function<void()> work_;  // all of these only under the mutex
    bool is_done_ = false, is_to_end_ = false;
    std::exception_ptr thrown_;
    std::thread thread_;
};

}  // namespace coilbook::bench
