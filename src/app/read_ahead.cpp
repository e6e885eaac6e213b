#include "app/read_ahead.h"

#include <condition_variable>
#include <deque>
#include <exception>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

namespace coilbook::app {
namespace {

using Batch = std::vector<Result<exchange::Record>>;
constexpr std::size_t rows_of_a_batch = 128;
constexpr std::size_t most_batches = 8;

// What goes from the reading thread to the other, a batch at a time.
class Belt {
  public:
    // False where nobody takes any more.
    bool put(Batch batch) {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [&] { return is_left_ || batches_.size() < most_batches; });
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
    std::optional<Batch> take() {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [&] { return has_ended_ || !batches_.empty(); });
        if (batches_.empty()) return std::nullopt;
        auto batch = std::move(batches_.front());
        batches_.pop_front();
        changed_.notify_all();
        return batch;
    }
    void leave() {
        const std::lock_guard lock(mutex_);
        is_left_ = true;
        changed_.notify_all();
    }

  private:
    std::mutex mutex_;
    std::condition_variable changed_;
    std::deque<Batch> batches_;
    bool has_ended_ = false;
    bool is_left_ = false;
};

// Ends the reading where nobody takes its rows any more.
struct NobodyTakes {};

}  // namespace

Result<void> read_ahead(const ReadRecords& read, const exchange::RecordBegin& begin,
                        const exchange::RecordUse& use) {
    Belt belt;
    Result<void> outcome;
    std::exception_ptr failure;
    std::thread reader([&] {
        try {
            Batch batch;
            outcome = read(begin, [&](Result<exchange::Record>&& record) {
                batch.push_back(std::move(record));
                if (batch.size() < rows_of_a_batch) return;
                if (!belt.put(std::exchange(batch, {}))) throw NobodyTakes();
            });
            belt.put(std::move(batch));
        } catch (const NobodyTakes&) {  // the other thread says why
        } catch (...) {
            failure = std::current_exception();
        }
        belt.end();
    });
    try {
        while (auto batch = belt.take()) {
            for (auto& record : *batch) use(std::move(record));
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
