// viewer/app/settings.hpp: what a person chose once and keeps: a small file in the state folder.
#pragma once

#include "viewer/app/theme.hpp"

#include <filesystem>
#include <string>

namespace evenclose {

struct Settings {
    ThemeWish theme = ThemeWish::as_desktop;
    std::string molds_folder = {}; // empty: that of the mold in the press
    bool desktop_dialogs = true;   // for files, where the desktop offers them
    bool operator==(const Settings&) const = default;
};

/// As they were kept; what cannot be read is as it is at first. An empty folder keeps nothing.
[[nodiscard]] Settings read_settings(const std::filesystem::path& state_folder);
void keep_settings(const std::filesystem::path& state_folder, const Settings& settings);

} // namespace evenclose
