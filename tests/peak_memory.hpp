// tests/peak_memory.hpp: how much memory this process has taken at most.
#pragma once

#include <fstream>
#include <string>

namespace evenclose::test {

/// The peak of this address space, MB of 1024 kB; 0 where the system does not tell. Not getrusage's: Linux carries that over a
/// fork and an exec, from the parent's.
inline double peak_MB() {
    std::ifstream status("/proc/self/status");
    for (std::string word; status >> word;) {
        if (word == "VmHWM:") {
            double kB = 0;
            status >> kB;
            return kB / 1024;
        }
    }
    return 0;
}

} // namespace evenclose::test
