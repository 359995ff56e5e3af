#include "viewer/app/settings.hpp"

#include "scene/documents/atomic_write.hpp"

#include <array>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>

namespace evenclose {
namespace {

constexpr const char* kFile = "settings";
constexpr const char* kOwnDialogs = "own";

constexpr std::array<std::pair<ThemeWish, const char*>, 3> kThemes{
    {{ThemeWish::as_desktop, "desktop"}, {ThemeWish::light, "light"}, {ThemeWish::dark, "dark"}}};

} // namespace

Settings read_settings(const std::filesystem::path& state_folder) {
    Settings settings;
    if (state_folder.empty()) {
        return settings;
    }
    std::ifstream in(state_folder / kFile);
    const std::string text{std::istreambuf_iterator<char>{in}, {}};
    settings.molds_folder = ini_value(text, "molds", "folder");
    const std::string theme = ini_value(text, "window", "theme");
    for (const auto& [wish, word] : kThemes) {
        if (theme == word) {
            settings.theme = wish;
        }
    }
    settings.desktop_dialogs = ini_value(text, "window", "dialogs") != kOwnDialogs;
    return settings;
}

void keep_settings(const std::filesystem::path& state_folder, const Settings& settings) {
    if (state_folder.empty()) {
        return;
    }
    std::string text = "[window]\n";
    for (const auto& [wish, word] : kThemes) {
        if (settings.theme == wish) {
            text += std::string("theme = ") + word + "\n";
        }
    }
    if (!settings.desktop_dialogs) {
        text += std::string("dialogs = ") + kOwnDialogs + "\n";
    }
    if (!settings.molds_folder.empty() && settings.molds_folder.find('\n') == std::string::npos) {
        text += "[molds]\nfolder = " + settings.molds_folder + "\n";
    }
    // Where it cannot be kept the window is as it was all the same.
    static_cast<void>(write_file_atomically(state_folder / kFile, text));
}

} // namespace evenclose
