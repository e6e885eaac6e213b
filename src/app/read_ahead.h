// Reads on a thread of its own, some rows ahead of who uses them: making out the cells of one row
// and keeping another are each a good part of the work of an import.
#pragma once

#include <condition_variable>
#include <deque>
#include <exception>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

#include "base/result.h"

namespace coilbook::app {

// What goes from the reading thread to the other, some rows at a time.
template <class Row>
class Belt {
  public:
    using Batch = std::vector<Row>;
    static constexpr std::size_t rows_of_a_batch = 128;
    static constexpr std::size_t bytes_of_a_batch = 64 * 1024;  // or one row, if that has more

    explicit Belt(std::size_t most_batches) : most_batches_(most_batches) {}

    // False where nobody takes any more. What was given back ends here, on the thread that made
    // it: two threads that free each other's memory wait for each other.
    [[nodiscard]] bool put(Batch batch) {
        std::vector<Batch> used;
        std::unique_lock lock(mutex_);
        used.swap(used_);
        changed_.wait(lock, [&] { return is_left_ || batches_.size() < most_batches_; });
        if (is_left_) return false;
        batches_.push_back(std::move(batch));
        changed_.notify_all();
        return true;
    }
    void end() {
        const std::lock_guard lock(mutex_);
        has_ended_ = true;
        changed_.notify_all();
    }
    // Nothing at the end.
    [[nodiscard]] std::optional<Batch> take() {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [&] { return has_ended_ || !batches_.empty(); });
        if (batches_.empty()) return std::nullopt;
        auto batch = std::move(batches_.front());
        batches_.pop_front();
        changed_.notify_all();
        return batch;
    }
    void give_back(Batch used) {
        const std::lock_guard lock(mutex_);
        used_.push_back(std::move(used));
    }
    void leave() {
        const std::lock_guard lock(mutex_);
        is_left_ = true;
        changed_.notify_all();
    }

  private:
    const std::size_t most_batches_;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::deque<Batch> batches_;
    std::vector<Batch> used_;
    bool has_ended_ = false;
    bool is_left_ = false;
};

// Has `read`, a function of another one that takes a Row, read on a thread of its own, and calls
// `use` with each of its rows, in order and on the caller's thread. Gives what `read` gives. The
// first exception of either ends it all and comes out of here. Some `rows` at most are read ahead,
// fewer where they are long: `bytes_of` is a function of a row.
template <class Row, class Read, class Use, class BytesOf>
[[nodiscard]] Result<void> read_ahead(const Read& read, const Use& use, std::size_t rows,
                                      const BytesOf& bytes_of) {
    struct NobodyTakes {};  // ends the reading
    Belt<Row> belt(1 + rows / Belt<Row>::rows_of_a_batch);
    Result<void> outcome;
    std::exception_ptr failure;
    std::thread reader([&] {
        try {
            typename Belt<Row>::Batch batch;
            std::size_t bytes = 0;
            outcome = read([&](Row&& row) {
                bytes += bytes_of(row);
                batch.push_back(std::move(row));
                if (batch.size() < belt.rows_of_a_batch && bytes < belt.bytes_of_a_batch) return;
                bytes = 0;
                if (!belt.put(std::exchange(batch, {}))) throw NobodyTakes();
            });
            if (!belt.put(std::move(batch))) throw NobodyTakes();
        } catch (const NobodyTakes&) {  // the other thread says why
        } catch (...) {
            failure = std::current_exception();
        }
        belt.end();
    });
    try {
        while (auto batch = belt.take()) {
            for (auto& row : *batch) use(std::move(row));
            belt.give_back(std::move(*batch));
        }
    } catch (...) {
        belt.leave();
        reader.join();
        throw;
    }
    reader.join();
    if (failure) std::rethrow_exception(failure);
    return outcome;
}

}  // namespace coilbook::app
