// viewer/app/background_jobs.hpp: long work on a thread of its own, so that nothing ever blocks the window.
//
// One job at a time: a newer one cancels the older and starts when that has stopped; of several waiting only the newest
// is run. What a job hands over is kept in order until the window takes it, once a frame; of a job that was cancelled or
// superseded nothing more comes. A job that throws is handed over in words, always: where there is no memory even for these,
// it is tried until there is.
#pragma once

#include "checks/progress.hpp"
#include "viewer/app/intent.hpp"

#include <chrono>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace evenclose {

class BackgroundJobs {
public:
    using HandOver = std::function<void(Intent)>;
    struct Job {
        std::function<void(Progress&, const HandOver&)> work;
        std::function<Intent(const std::string& why)> failed; // what is handed over if `work` throws
    };

    /// `wake` is called from the job's thread whenever there is something to take or a job has ended.
    explicit BackgroundJobs(std::function<void()> wake);
    /// Cancels and waits for the job to stop.
    ~BackgroundJobs();
    BackgroundJobs(const BackgroundJobs&) = delete;
    BackgroundJobs& operator=(const BackgroundJobs&) = delete;

    void start(Job job);
    void cancel();
    [[nodiscard]] std::vector<Intent> take();
    [[nodiscard]] bool busy() const;
    /// Of the running job, 0 to 1; 0 when there is none.
    [[nodiscard]] double fraction() const;
    /// Cancels everything; true if the thread stood still within `patience`.
    [[nodiscard]] bool wind_up(std::chrono::milliseconds patience);

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

} // namespace evenclose
