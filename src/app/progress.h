// How far a long piece of work is, and whether it is still wanted: told and asked from two threads.
#pragma once

#include <atomic>

namespace coilbook::app {

// Thrown by Progress::reached() in the work of somebody who has had enough. It is no Error:
// whatever it passes undoes what was begun, and nobody reports it as a failure.
struct BrokenOff {};

class Progress {
  public:
    // For who works: so much of it is done, 0 to 1. Throws BrokenOff once it is not wanted.
    void reached(double part) {
        if (is_unwanted_) throw BrokenOff{};
        part_ = part;
    }
    // For who waits.
    [[nodiscard]] double part() const { return part_; }
    void break_off() { is_unwanted_ = true; }
    [[nodiscard]] bool is_unwanted() const { return is_unwanted_; }

  private:
    std::atomic<double> part_ = 0;
    std::atomic<bool> is_unwanted_ = false;
};

}  // namespace coilbook::app
