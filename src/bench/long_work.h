// Work that takes its time: taking in a large file, a thousand labels, reading a large catalogue.
// It is done on a thread of its own, with a connection of its own to the catalogue, while the
// window goes on drawing. Broken off, it leaves everything as it was.
//
// A page asks for it (Page::take_work), the screen has it done and gives the page what came of it.
// Keys that are pressed meanwhile wait in the input queue, in their order: what is typed can never
// meet a catalogue that is half written.
#pragma once

#include <atomic>
#include <chrono>
#include <functional>
#include <string>
#include <thread>

#include "app/progress.h"
#include "app/workshop.h"

namespace coilbook::bench {

struct WorkDone {
    std::string message;  // what came of it
    std::string failure;  // why nothing did; empty where it went well
    bool operator==(const WorkDone&) const = default;
};

struct LongWork {
    std::string words;  // "Taking in bin.csv"
    std::function<WorkDone(app::Workshop& workshop, app::Progress& progress)> run;
};

class Worker {
  public:
    using Run = std::function<WorkDone(app::Progress& progress)>;

    // Begins at once. An Error of `run` becomes a failure.
    Worker(std::string words, Run run);
    // Breaks it off and waits for its end.
    ~Worker();
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;

    [[nodiscard]] const std::string& words() const { return words_; }
    [[nodiscard]] double part() const { return progress_.part(); }
    [[nodiscard]] std::chrono::milliseconds lasted() const;
    void break_off() { progress_.break_off(); }
    [[nodiscard]] bool is_unwanted() const { return progress_.is_unwanted(); }
    [[nodiscard]] bool is_over() const { return is_over_; }
    // Waits for the end.
    [[nodiscard]] const WorkDone& done();

  private:
    std::string words_;
    std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
    app::Progress progress_;
    WorkDone done_;  // of the thread's until it is over
    std::atomic<bool> is_over_ = false;
    std::thread thread_;
};

// What `run` gives, or what is said of it where it was broken off or failed.
[[nodiscard]] WorkDone done_or_told(const std::string& words, const Worker::Run& run,
                                    app::Progress& progress);

// The work with a workshop of its own on the same file, for another thread: what the workshop warns
// of stands in the message. Where the catalogue is no file it is done on `workshop` itself.
[[nodiscard]] WorkDone done_apart(const LongWork& work, const std::filesystem::path& file,
                                  app::Surroundings surroundings, app::Progress& progress);

}  // namespace coilbook::bench
