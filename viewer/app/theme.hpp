// viewer/app/theme.hpp: light or dark, as wished or as the desktop is.
#pragma once

#include <string>
#include <string_view>

namespace evenclose {

enum class Theme { light, dark };
enum class ThemeWish { as_desktop, light, dark };

[[nodiscard]] constexpr Theme theme_for(ThemeWish wish, Theme desktop) {
    return wish == ThemeWish::as_desktop ? desktop : wish == ThemeWish::dark ? Theme::dark : Theme::light;
}

/// What the desktop's own settings say, light where they say nothing. Looked for, the first that tells counts:
/// GTK_THEME, gtk-4.0 and gtk-3.0's settings.ini, KDE's kdeglobals (in $XDG_CONFIG_HOME, else ~/.config).
[[nodiscard]] Theme desktop_theme();
/// The same from what stands there: none where it tells nothing.
[[nodiscard]] bool tells_dark_gtk_theme(std::string_view gtk_theme); // "Adwaita:dark", "Breeze-Dark"
/// A settings file's last value of `key` in the section "[section]"; empty if it is not there.
[[nodiscard]] std::string ini_value(std::string_view text, std::string_view section, std::string_view key);

} // namespace evenclose
