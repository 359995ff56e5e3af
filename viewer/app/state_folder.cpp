#include "viewer/app/state_folder.hpp"

#include <cstdlib>
#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;

fs::path state_folder() {
    fs::path base;
    // The specification: a path that is not absolute is to be ignored.
    const char* state = std::getenv("XDG_STATE_HOME");
    if (state != nullptr && fs::path(state).is_absolute()) {
        base = state;
    } else if (const char* home = std::getenv("HOME"); home != nullptr && fs::path(home).is_absolute()) {
        base = fs::path(home) / ".local" / "state";
    } else {
        return {};
    }
    const fs::path folder = base / "evenclose";
    std::error_code fault;
    if (fs::create_directories(folder, fault)) {
        fs::permissions(folder, fs::perms::owner_all, fault);
    }
    return fs::is_directory(folder, fault) ? folder : fs::path{};
}

} // namespace evenclose
