// tests/processes.hpp: the processes that another one started.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

namespace evenclose::test {

struct Process {
    pid_t id = 0;
    char state = '?'; // Z: it has ended and nobody has asked how
};

/// Those of that name whose parent is `parent`. See proc(5): "id (name) state parent ...".
inline std::vector<Process> children_of(pid_t parent, const std::string& name) {
    std::vector<Process> found;
    for (const auto& entry : std::filesystem::directory_iterator("/proc")) {
        std::ifstream in(entry.path() / "stat");
        std::string line;
        if (!std::getline(in, line)) {
            continue; // no process, or one that ended meanwhile
        }
        const std::size_t open = line.find('('), close = line.rfind(')');
        if (line.substr(open + 1, close - open - 1) == name && std::stol(line.substr(close + 3)) == parent) {
            found.push_back({static_cast<pid_t>(std::stol(line)), line[close + 2]});
        }
    }
    return found;
}

} // namespace evenclose::test
