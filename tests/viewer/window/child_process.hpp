// tests/viewer/window/child_process.hpp: a program started for a test, ended with it, by its own process id.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include <sys/types.h>

namespace evenclose::test {

class ChildProcess {
public:
    struct Start {
        std::vector<std::string> command;
        std::map<std::string, std::string> environment; // on top of this process's own; an empty value removes
        std::string output_file;                        // for both outputs; empty: thrown away
        std::string folder = {};                        // it works in; empty: this process's
    };
    /// Faults: std::runtime_error when it cannot be started.
    explicit ChildProcess(const Start& start);
    /// Ends it if it still runs: asked first, killed after two seconds.
    ~ChildProcess();
    ChildProcess(const ChildProcess&) = delete;
    ChildProcess& operator=(const ChildProcess&) = delete;

    [[nodiscard]] bool running();
    [[nodiscard]] pid_t id() const { return pid_; }
    /// At once, without being asked, as by kill -9; waits until it is gone.
    void kill();
    /// Its exit status, or 128 + the signal that ended it; none if it still ran after `seconds`.
    [[nodiscard]] std::optional<int> exit_within(double seconds);

private:
    pid_t pid_ = -1;
    std::optional<int> status_;
};

/// Runs to its end. Faults: std::runtime_error with the command when it does not end well within a minute.
void run_to_end(const ChildProcess::Start& start);

} // namespace evenclose::test
