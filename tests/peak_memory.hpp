// tests/peak_memory.hpp: how much memory a process takes, and took at most.
#pragma once

#include <fstream>
#include <string>

namespace evenclose::test {

/// What the system tells of a process's memory under that name, MB of 1024 kB; 0 where it does not.
inline double memory_MB(const std::string& process, const std::string& name) {
    std::ifstream status("/proc/" + process + "/status");
    for (std::string word; status >> word;) {
        if (word == name + ":") {
            double kB = 0;
            status >> kB;
            return kB / 1024;
        }
    }
    return 0;
}

/// The peak of this address space. Not getrusage's: Linux carries that over a fork and an exec, from the parent's.
inline double peak_MB() { return memory_MB("self", "VmHWM"); }
/// What a process holds in memory now.
inline double resident_MB(int process) { return memory_MB(std::to_string(process), "VmRSS"); }

} // namespace evenclose::test
