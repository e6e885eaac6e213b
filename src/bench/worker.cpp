#include "bench/worker.h"

#include <cassert>
#include <utility>

namespace coilbook::bench {

Worker::Worker(std::shared_ptr<app::Progress> progress)
    : progress_(std::move(progress)), thread_([this] { live(); }) {}

Worker::~Worker() {
    progress_->break_off();
    {
        const std::lock_guard alone(in_use_);
        is_to_end_ = true;
    }
    changed_.notify_all();
    thread_.join();
}

void Worker::live() {
    std::unique_lock alone(in_use_);
    while (true) {
        changed_.wait(alone, [this] { return is_to_end_ || work_; });
        if (!work_) return;
        const auto work = std::exchange(work_, {});
        alone.unlock();
        std::exception_ptr thrown;
        try {
            work();
        } catch (const BrokenOff&) {
        } catch (...) {
            thrown = std::current_exception();
        }
        alone.lock();
        thrown_ = thrown;
        is_done_ = true;
        changed_.notify_all();
    }
}

void Worker::begin(std::function<void()> work, std::chrono::milliseconds patience) {
    assert(!is_at_work_ && "one thing at a time");
    is_at_work_ = true;
    begun_ = std::chrono::steady_clock::now();
    progress_->begin_anew("");
    std::unique_lock alone(in_use_);
    is_done_ = false;
    work_ = std::move(work);
    changed_.notify_all();
    changed_.wait_for(alone, patience, [this] { return is_done_; });
}

bool Worker::is_over() {
    std::unique_lock alone(in_use_);
    if (!is_at_work_ || !is_done_) return !is_at_work_;
    is_at_work_ = false;
    if (const auto thrown = std::exchange(thrown_, {})) std::rethrow_exception(thrown);
    return true;
}

std::chrono::milliseconds Worker::lasted() const {
    return std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() -
                                                                 begun_);
}

}  // namespace coilbook::bench
