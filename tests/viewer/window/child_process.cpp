#include "tests/viewer/window/child_process.hpp"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <stdexcept>
#include <thread>

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace evenclose::test {
namespace {

using Clock = std::chrono::steady_clock;

int meaning_of(int wait_status) {
    return WIFEXITED(wait_status) ? WEXITSTATUS(wait_status) : 128 + WTERMSIG(wait_status);
}

} // namespace

ChildProcess::ChildProcess(const Start& start) {
    std::vector<char*> arguments;
    for (const std::string& word : start.command) {
        arguments.push_back(const_cast<char*>(word.c_str()));
    }
    arguments.push_back(nullptr);
    const std::string output = start.output_file.empty() ? "/dev/null" : start.output_file;
    pid_ = fork();
    if (pid_ < 0) {
        throw std::runtime_error("no process can be started");
    }
    if (pid_ == 0) {
        const int out = open(output.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
        dup2(out, STDOUT_FILENO);
        dup2(out, STDERR_FILENO);
        for (const auto& [name, value] : start.environment) {
            value.empty() ? unsetenv(name.c_str()) : setenv(name.c_str(), value.c_str(), 1);
        }
        if (!start.folder.empty() && chdir(start.folder.c_str()) != 0) {
            _exit(126);
        }
        execvp(arguments[0], arguments.data());
        _exit(127);
    }
}

ChildProcess::~ChildProcess() {
    if (!running()) {
        return;
    }
    ::kill(pid_, SIGTERM);
    if (!exit_within(2.0)) {
        ::kill(pid_, SIGKILL);
        (void)exit_within(10.0);
    }
}

bool ChildProcess::running() {
    int wait_status = 0;
    if (!status_ && waitpid(pid_, &wait_status, WNOHANG) == pid_) {
        status_ = meaning_of(wait_status);
    }
    return !status_;
}

void ChildProcess::kill() {
    if (running()) {
        ::kill(pid_, SIGKILL);
        (void)exit_within(10.0);
    }
}

std::optional<int> ChildProcess::exit_within(double seconds) {
    const auto until = Clock::now() + std::chrono::duration<double>(seconds);
    while (running() && Clock::now() < until) {
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    return status_;
}

void run_to_end(const ChildProcess::Start& start) {
    ChildProcess child(start);
    const auto status = child.exit_within(60.0);
    if (status != 0) {
        std::string command;
        for (const std::string& word : start.command) {
            command += word + " ";
        }
        throw std::runtime_error(command + (status ? "ended with " + std::to_string(*status) : "did not end") +
                                 "; sh third_party/install.sh tests installs what the tests need");
    }
}

} // namespace evenclose::test
