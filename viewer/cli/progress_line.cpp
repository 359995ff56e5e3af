#include "viewer/cli/progress_line.hpp"

#include <fmt/format.h>

#include <chrono>
#include <iostream>

#include <unistd.h>

namespace evenclose {

ProgressLine::ProgressLine(const Progress& progress, std::string what, std::ostream& err) {
    if (&err != &std::cerr || isatty(STDERR_FILENO) == 0) {
        return;
    }
    thread_ = std::thread([this, &progress, &err, what = std::move(what)] {
        using namespace std::chrono_literals;
        bool shown = false;
        std::unique_lock lock(mutex_);
        while (!over_.wait_for(lock, shown ? 100ms : 500ms, [this] { return done_; })) {
            err << fmt::format("\r{} {:3.0f} %", what, 100 * progress.fraction()) << std::flush;
            shown = true;
        }
        if (shown) {
            err << "\r" << std::string(what.size() + 6, ' ') << "\r" << std::flush;
        }
    });
}

ProgressLine::~ProgressLine() {
    if (thread_.joinable()) {
        {
            const std::lock_guard lock(mutex_);
            done_ = true;
        }
        over_.notify_one();
        thread_.join();
    }
}

} // namespace evenclose
