#include "viewer/app/recent_setups.hpp"

#include "scene/documents/atomic_write.hpp"

#include <algorithm>
#include <fstream>
#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;

std::vector<std::string> recent_setups(const fs::path& folder) {
    std::vector<std::string> files;
    std::ifstream in(folder / "recent");
    // A path a line; one with a line break in it is not remembered.
    for (std::string line; !folder.empty() && files.size() < kMostRecent && std::getline(in, line);) {
        std::error_code fault;
        if (!line.empty() && fs::is_regular_file(line, fault)) {
            files.push_back(line);
        }
    }
    return files;
}

void remember_setup(const fs::path& folder, const std::string& file) {
    std::error_code fault;
    const std::string whole = fs::absolute(file, fault).lexically_normal().string();
    if (folder.empty() || fault || whole.find('\n') != std::string::npos) {
        return;
    }
    std::vector<std::string> files = recent_setups(folder);
    if (!files.empty() && files.front() == whole) {
        return;
    }
    files.erase(std::remove(files.begin(), files.end(), whole), files.end());
    files.insert(files.begin(), whole);
    files.resize(std::min(files.size(), kMostRecent));
    std::string text;
    for (const std::string& one : files) {
        text += one + "\n";
    }
    static_cast<void>(write_file_atomically(folder / "recent", text));
}

} // namespace evenclose
