// What takes its time just now, how far it is, and whether it is still wanted: told by who works,
// asked from another thread by who waits.
#pragma once

#include <atomic>
#include <mutex>
#include <string>
#include <utility>

#include "base/broken_off.h"

namespace coilbook::app {

class Progress {
  public:
    // For who works: this is done from now on ("Copying the catalogue"); nobody knows how far.
    void begin(std::string words) {
        const std::lock_guard alone(words_in_use_);
        words_ = std::move(words);
        part_ = 0;
    }
    // So much of it is done, 0 to 1. Throws BrokenOff once it is not wanted.
    void reached(double part) {
        if (is_unwanted_) throw BrokenOff{};
        part_ = part;
    }
    // For who waits.
    [[nodiscard]] std::string words() const {
        const std::lock_guard alone(words_in_use_);
        return words_;
    }
    [[nodiscard]] double part() const { return part_; }
    void break_off() { is_unwanted_ = true; }
    [[nodiscard]] bool is_unwanted() const { return is_unwanted_; }
    // Before something else: it is wanted.
    void begin_anew(std::string words) {
        is_unwanted_ = false;
        begin(std::move(words));
    }

  private:
    mutable std::mutex words_in_use_;
    std::string words_;
    std::atomic<double> part_ = 0;
    std::atomic<bool> is_unwanted_ = false;
};

}  // namespace coilbook::app
