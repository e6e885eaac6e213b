// Work spread over the machine's cores, with its results in the order of the jobs.
//
// One thread, the caller's, fetches jobs and takes the results; the others work. At most a few jobs
// a thread are under way, so that memory stays flat however many there are.
#pragma once

#include <condition_variable>
#include <deque>
#include <exception>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

namespace coilbook::app {

// Calls `fetch` for jobs until it gives nothing, `work` on each in any order and on several threads
// at once, and `take` on each result in the order of the jobs, until it gives false. `work` gets
// the number of its thread, 0 … threads − 1, so that each may have tools of its own. The first
// exception of any of the three ends it all and comes out of here.
template <class Job, class Outcome>
void in_order(unsigned threads, const std::function<std::optional<Job>()>& fetch,
              const std::function<Outcome(Job&, unsigned)>& work,
              const std::function<bool(Outcome&)>& take) {
    struct Entry {
        Job job;
        std::optional<Outcome> outcome;
        std::exception_ptr failure;
    };
    std::mutex mutex;
    std::condition_variable job_waits, outcome_waits;
    std::deque<Entry*> waiting;
    bool is_over = false;

    const auto worker = [&](unsigned number) {
        while (true) {
            Entry* entry = nullptr;
            {
                std::unique_lock lock(mutex);
                job_waits.wait(lock, [&] { return is_over || !waiting.empty(); });
                if (is_over) return;
                entry = waiting.front();
                waiting.pop_front();
            }
            std::optional<Outcome> outcome;
            std::exception_ptr failure;
            try {
                outcome = work(entry->job, number);
            } catch (...) {
                failure = std::current_exception();
            }
            const std::lock_guard lock(mutex);
            entry->outcome = std::move(outcome);
            entry->failure = failure;
            outcome_waits.notify_one();
        }
    };
    std::vector<std::jthread> workers;
    // However this ends, the workers are told, and joined by their destructors.
    struct Ending {
        std::mutex& mutex;
        std::condition_variable& job_waits;
        bool& is_over;
        ~Ending() {
            const std::lock_guard lock(mutex);
            is_over = true;
            job_waits.notify_all();
        }
    };
    std::deque<Entry> under_way;  // entries stay where they are while others come and go
    const std::size_t most_under_way = 4 * std::size_t{threads};
    {
        for (unsigned i = 0; i < threads; ++i) workers.emplace_back(worker, i);
        const Ending ending{mutex, job_waits, is_over};
        bool has_more = true;
        while (has_more || !under_way.empty()) {
            while (has_more && under_way.size() < most_under_way) {
                auto job = fetch();
                has_more = job.has_value();
                if (!has_more) break;
                const std::lock_guard lock(mutex);
                waiting.push_back(&under_way.emplace_back(Entry{std::move(*job), {}, {}}));
                job_waits.notify_one();
            }
            if (under_way.empty()) break;
            auto& first = under_way.front();
            {
                std::unique_lock lock(mutex);
                outcome_waits.wait(lock, [&] { return first.outcome || first.failure; });
            }
            if (first.failure) std::rethrow_exception(first.failure);
            if (!take(*first.outcome)) break;
            under_way.pop_front();
        }
    }
    workers.clear();
}

}  // namespace coilbook::app
