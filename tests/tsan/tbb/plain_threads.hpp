// tests/tsan/tbb/plain_threads.hpp: what we use of oneTBB, done by plain threads. Stands before the real headers in a build for the
// thread sanitizer only.
//
// libtbb is not built for that sanitizer, which so does not see how its threads wait for each other and takes all that goes
// through it for races; told to pass by whatever has TBB in it, it sees ours no more either. A thread that is started and joined
// it knows. What is counted here is counted relaxed, so that nothing is in order that TBB would not keep in order.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <functional>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

namespace tbb {

template <class Index> class blocked_range {
public:
    using const_iterator = Index;
    blocked_range(Index from, Index to, std::size_t grain = 1) : from_(from), to_(to), grain_(grain) {}
    [[nodiscard]] Index begin() const { return from_; }
    [[nodiscard]] Index end() const { return to_; }
    [[nodiscard]] std::size_t size() const { return static_cast<std::size_t>(to_ - from_); }
    [[nodiscard]] std::size_t grainsize() const { return grain_; }

private:
    Index from_, to_;
    std::size_t grain_;
};

class global_control {
public:
    enum parameter { max_allowed_parallelism };
    global_control(parameter /*what*/, std::size_t /*most*/) {}
};

namespace plain {

// Besides those that ask: calls within calls must not start threads without end.
inline std::atomic<int> threads_left{3};

inline bool take_thread() {
    int left = threads_left.load(std::memory_order_relaxed);
    while (left > 0 && !threads_left.compare_exchange_weak(left, left - 1, std::memory_order_relaxed)) {
    }
    return left > 0;
}

/// Each thread has its share from the beginning, so that also where there is little to do others than the asking one do some.
template <class Work> void for_each(std::size_t count, const Work& work) {
    std::atomic<bool> stop{false};
    std::mutex guard;
    std::exception_ptr fault;
    std::size_t threads = 1;
    while (threads < count && take_thread()) {
        ++threads;
    }
    const auto run = [&](std::size_t first) {
        try {
            for (std::size_t i = first; i < count && !stop.load(std::memory_order_relaxed); i += threads) {
                work(i);
            }
        } catch (...) {
            stop.store(true, std::memory_order_relaxed);
            const std::lock_guard lock(guard);
            fault = fault ? fault : std::current_exception();
        }
    };
    std::vector<std::thread> others;
    others.reserve(threads);
    for (std::size_t first = 1; first < threads; ++first) {
        others.emplace_back(run, first);
    }
    run(0);
    for (std::thread& other : others) {
        other.join();
        threads_left.fetch_add(1, std::memory_order_relaxed);
    }
    if (fault) {
        std::rethrow_exception(fault);
    }
}

template <class Index> std::size_t pieces(const blocked_range<Index>& range) {
    return (range.size() + range.grainsize() - 1) / range.grainsize();
}

template <class Index> blocked_range<Index> piece(const blocked_range<Index>& range, std::size_t number) {
    const auto at = [&](std::size_t i) {
        return static_cast<Index>(range.begin() + static_cast<Index>(std::min(range.size(), i * range.grainsize())));
    };
    return {at(number), at(number + 1), range.grainsize()};
}

} // namespace plain

template <class Index, class Body> void parallel_for(const blocked_range<Index>& range, const Body& body) {
    plain::for_each(plain::pieces(range), [&](std::size_t i) { body(plain::piece(range, i)); });
}

template <class Index, class Body> void parallel_for(Index from, Index to, const Body& body) {
    plain::for_each(to > from ? static_cast<std::size_t>(to - from) : 0,
                    [&](std::size_t i) { body(static_cast<Index>(from + static_cast<Index>(i))); });
}

template <class... Works> void parallel_invoke(const Works&... works) {
    const std::vector<std::function<void()>> all{std::cref(works)...};
    plain::for_each(all.size(), [&](std::size_t i) { all[i](); });
}

template <class Index, class Value, class Body, class Join>
Value parallel_reduce(const blocked_range<Index>& range, const Value& none, const Body& body, const Join& join) {
    std::vector<Value> found(plain::pieces(range), none);
    plain::for_each(found.size(), [&](std::size_t i) { found[i] = body(plain::piece(range, i), none); });
    Value all = none;
    for (const Value& one : found) {
        all = join(all, one);
    }
    return all;
}

namespace this_task_arena {
template <class Work> auto isolate(const Work& work) { return work(); }
} // namespace this_task_arena

} // namespace tbb
