#include "bench/long_work.h"

#include <utility>

#include "base/error.h"

namespace coilbook::bench {

WorkDone done_or_told(const std::string& words, const Worker::Run& run, app::Progress& progress) {
    try {
        return run(progress);
    } catch (const app::BrokenOff&) {
        return {words + " was broken off; everything is as it was before", {}};
    } catch (const Error& error) {
        return {{}, error.what()};
    }
}

Worker::Worker(std::string words, Run run) : words_(std::move(words)) {
    thread_ = std::thread([this, run = std::move(run)] {
        done_ = done_or_told(words_, run, progress_);
        is_over_ = true;
    });
}

Worker::~Worker() {
    break_off();
    if (thread_.joinable()) thread_.join();
}

std::chrono::milliseconds Worker::lasted() const {
    return std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() -
                                                                 begun_);
}

const WorkDone& Worker::done() {
    if (thread_.joinable()) thread_.join();
    return done_;
}

WorkDone done_apart(const LongWork& work, const std::filesystem::path& file,
                    app::Surroundings surroundings, app::Progress& progress) {
    std::string warnings;
    surroundings.warn = [&](const std::string& words) { warnings += "; " + words; };
    auto workshop = app::Workshop::open(file, std::move(surroundings));
    WorkDone done = work.run(workshop, progress);
    (done.failure.empty() ? done.message : done.failure) += warnings;
    return done;
}

}  // namespace coilbook::bench
