#include "viewer/app/theme.hpp"

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

std::string lower(std::string_view words) {
    std::string out{words};
    std::transform(out.begin(), out.end(), out.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

std::string_view trimmed(std::string_view words) {
    while (!words.empty() && std::isspace(static_cast<unsigned char>(words.front())) != 0) {
        words.remove_prefix(1);
    }
    while (!words.empty() && std::isspace(static_cast<unsigned char>(words.back())) != 0) {
        words.remove_suffix(1);
    }
    return words;
}

/// Empty if it cannot be read; a settings file of the desktop is a few kB.
std::string text_of(const fs::path& file) {
    std::error_code fault;
    if (!fs::is_regular_file(file, fault) || fs::file_size(file, fault) > 1'000'000 || fault) {
        return {};
    }
    std::ifstream in(file);
    return {std::istreambuf_iterator<char>{in}, {}};
}

} // namespace

bool tells_dark_gtk_theme(std::string_view gtk_theme) { return lower(gtk_theme).find("dark") != std::string::npos; }

std::string ini_value(std::string_view text, std::string_view section, std::string_view key) {
    std::string value;
    bool inside = false;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        const std::string_view line = trimmed(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        if (line.starts_with('[')) {
            inside = line.size() == section.size() + 2 && line.substr(1, section.size()) == section;
            continue;
        }
        const std::size_t equals = line.find('=');
        if (inside && equals != std::string_view::npos && trimmed(line.substr(0, equals)) == key) {
            value = trimmed(line.substr(equals + 1));
        }
    }
    return value;
}

Theme desktop_theme() {
    if (const char* named = std::getenv("GTK_THEME"); named != nullptr && *named != '\0') {
        return tells_dark_gtk_theme(named) ? Theme::dark : Theme::light;
    }
    fs::path config;
    if (const char* home = std::getenv("XDG_CONFIG_HOME"); home != nullptr && fs::path(home).is_absolute()) {
        config = home;
    } else if (const char* own = std::getenv("HOME"); own != nullptr && fs::path(own).is_absolute()) {
        config = fs::path(own) / ".config";
    } else {
        return Theme::light;
    }
    for (const char* folder : {"gtk-4.0", "gtk-3.0"}) {
        const std::string text = text_of(config / folder / "settings.ini");
        const std::string prefers = lower(ini_value(text, "Settings", "gtk-application-prefer-dark-theme"));
        if (!prefers.empty()) {
            return prefers == "1" || prefers == "true" ? Theme::dark : Theme::light;
        }
        if (tells_dark_gtk_theme(ini_value(text, "Settings", "gtk-theme-name"))) {
            return Theme::dark;
        }
    }
    const std::string scheme = ini_value(text_of(config / "kdeglobals"), "General", "ColorScheme");
    return tells_dark_gtk_theme(scheme) ? Theme::dark : Theme::light;
}

} // namespace evenclose
