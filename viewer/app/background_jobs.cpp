#include "viewer/app/background_jobs.hpp"

#include "viewer/app/fault_words.hpp"

#include <condition_variable>
#include <exception>
#include <mutex>
#include <new>
#include <optional>
#include <thread>
#include <utility>

namespace evenclose {
namespace {

// Others give memory back within this, if they do.
constexpr std::chrono::milliseconds kMemoryComesBack{50};

struct Entry {
    BackgroundJobs::Job job;
    std::shared_ptr<Progress> progress = std::make_shared<Progress>();
};

} // namespace

struct BackgroundJobs::Inner {
    std::function<void()> wake;
    mutable std::mutex mutex; // guards all below
    std::condition_variable changed;
    std::optional<Entry> waiting;
    std::shared_ptr<Progress> running;
    std::vector<Intent> handed_over;
    bool closing = false;
    std::thread thread;

    void run() {
        std::unique_lock lock(mutex);
        while (true) {
            changed.wait(lock, [&] { return closing || waiting; });
            if (closing) {
                return;
            }
            Entry entry = std::move(*waiting);
            waiting.reset();
            running = entry.progress;
            lock.unlock();
            work_on(entry);
            lock.lock();
            running.reset();
            changed.notify_all();
            lock.unlock();
            wake();
            lock.lock();
        }
    }

    void work_on(const Entry& entry) {
        const HandOver hand_over = [&](Intent intent) {
            {
                const std::lock_guard lock(mutex);
                if (entry.progress->cancelled()) {
                    return;
                }
                handed_over.push_back(std::move(intent));
            }
            wake();
        };
        try {
            entry.job.work(*entry.progress, hand_over);
        } catch (const std::exception& fault) {
            tell(entry, hand_over, [&] { return fault_words(fault); });
        } catch (...) {
            tell(entry, hand_over, [] { return std::string("something unknown went wrong"); });
        }
    }

    /// What the work took is given back by now. A window that waits for an answer gets one.
    static void tell(const Entry& entry, const HandOver& hand_over, const std::function<std::string()>& words) {
        while (!entry.progress->cancelled()) {
            try {
                hand_over(entry.job.failed(words()));
                return;
            } catch (const std::bad_alloc&) {
                std::this_thread::sleep_for(kMemoryComesBack);
            }
        }
    }

    /// Needs: the lock is held.
    void cancel_all() {
        waiting.reset();
        if (running) {
            running->cancel();
        }
        handed_over.clear();
    }
};

BackgroundJobs::BackgroundJobs(std::function<void()> wake) : inner_(std::make_unique<Inner>()) {
    inner_->wake = std::move(wake);
    inner_->thread = std::thread([inner = inner_.get()] { inner->run(); });
}

BackgroundJobs::~BackgroundJobs() {
    {
        const std::lock_guard lock(inner_->mutex);
        inner_->cancel_all();
        inner_->closing = true;
    }
    inner_->changed.notify_all();
    inner_->thread.join();
}

void BackgroundJobs::start(Job job) {
    {
        const std::lock_guard lock(inner_->mutex);
        inner_->cancel_all();
        inner_->waiting.emplace(Entry{std::move(job)});
    }
    inner_->changed.notify_all();
}

void BackgroundJobs::cancel() {
    const std::lock_guard lock(inner_->mutex);
    inner_->cancel_all();
}

std::vector<Intent> BackgroundJobs::take() {
    const std::lock_guard lock(inner_->mutex);
    return std::exchange(inner_->handed_over, {});
}

bool BackgroundJobs::busy() const {
    const std::lock_guard lock(inner_->mutex);
    return inner_->running || inner_->waiting;
}

double BackgroundJobs::fraction() const {
    const std::lock_guard lock(inner_->mutex);
    return inner_->running ? inner_->running->fraction() : 0.0;
}

bool BackgroundJobs::wind_up(std::chrono::milliseconds patience) {
    std::unique_lock lock(inner_->mutex);
    inner_->cancel_all();
    return inner_->changed.wait_for(lock, patience, [&] { return !inner_->running; });
}

} // namespace evenclose
