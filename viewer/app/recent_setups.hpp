// viewer/app/recent_setups.hpp: the set-ups that were open last, the newest first, in a file of the state folder.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace evenclose {

inline constexpr std::size_t kMostRecent = 8;

/// Those of them that are still there. `folder` empty: none.
[[nodiscard]] std::vector<std::string> recent_setups(const std::filesystem::path& folder);
/// Puts it at the top. What cannot be written is not remembered; nothing depends on it.
void remember_setup(const std::filesystem::path& folder, const std::string& file);

} // namespace evenclose
