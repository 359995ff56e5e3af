// viewer/cli/progress_line.hpp: one line on the terminal that says how far a long check is; nothing elsewhere.
#pragma once

#include "checks/progress.hpp"

#include <condition_variable>
#include <iosfwd>
#include <mutex>
#include <string>
#include <thread>

namespace evenclose {

/// Shows `progress` on `err` while it lives, if `err` is the process' standard error and that is a terminal, and only
/// for work that takes longer than half a second.
class ProgressLine {
public:
    ProgressLine(const Progress& progress, std::string what, std::ostream& err);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

private:
    std::mutex mutex_;
    std::condition_variable over_;
    bool done_ = false;
    std::thread thread_;
};

} // namespace evenclose
