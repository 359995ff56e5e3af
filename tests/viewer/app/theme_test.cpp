// Light or dark: as wished and kept, else as the desktop's own settings say.
#include "viewer/app/settings.hpp"

#include "tests/scene/documents/temporary_folder.hpp"
#include "viewer/app/apply.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <optional>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// An environment variable for as long as it lives.
class Environment {
public:
    Environment(std::string name, const std::string& value) : name_(std::move(name)) {
        if (const char* before = std::getenv(name_.c_str())) {
            before_ = before;
        }
        ::setenv(name_.c_str(), value.c_str(), 1);
    }
    ~Environment() { before_ ? ::setenv(name_.c_str(), before_->c_str(), 1) : ::unsetenv(name_.c_str()); }
    Environment(const Environment&) = delete;
    Environment& operator=(const Environment&) = delete;

private:
    std::string name_;
    std::optional<std::string> before_;
};

} // namespace

TEST_CASE("the theme that was wished is kept, and what is no such word is as at first") {
    TemporaryFolder folder;
    CHECK(read_settings(folder.path()).theme == ThemeWish::as_desktop);
    for (const ThemeWish wish : {ThemeWish::dark, ThemeWish::light, ThemeWish::as_desktop}) {
        keep_settings(folder.path(), {wish});
        CHECK(read_settings(folder.path()).theme == wish);
    }
    folder.write("settings", "[window]\ntheme = purple\n");
    CHECK(read_settings(folder.path()).theme == ThemeWish::as_desktop);
    folder.write("settings", std::string("\0\xFF[window", 9));
    CHECK(read_settings(folder.path()).theme == ThemeWish::as_desktop);
    keep_settings({}, {ThemeWish::dark});
    CHECK(read_settings({}).theme == ThemeWish::as_desktop);
}

TEST_CASE("the desktop is dark where its settings say so, light where they say nothing") {
    TemporaryFolder folder;
    const Environment config("XDG_CONFIG_HOME", folder.path().string());
    {
        const Environment none("GTK_THEME", "");
        CHECK(desktop_theme() == Theme::light);
        folder.write("kdeglobals", "[General]\nColorScheme=BreezeDark\n[KDE]\nColorScheme=Light\n");
        CHECK(desktop_theme() == Theme::dark);
        folder.write("gtk-3.0/settings.ini", "[Settings]\n gtk-application-prefer-dark-theme = false\r\n");
        CHECK(desktop_theme() == Theme::light);
        folder.write("gtk-4.0/settings.ini", "[Settings]\ngtk-application-prefer-dark-theme=1\n");
        CHECK(desktop_theme() == Theme::dark);
        folder.write("gtk-4.0/settings.ini", "[Other]\ngtk-application-prefer-dark-theme=1\n");
        CHECK(desktop_theme() == Theme::light);
    }
    const Environment named("GTK_THEME", "Adwaita:dark");
    CHECK(desktop_theme() == Theme::dark);
    CHECK(ini_value("[a]\nk=1\nk = 2 \n[b]\nk=3", "a", "k") == "2");
    CHECK(ini_value("k=1", "a", "k").empty());
}

TEST_CASE("a wish stands before the desktop, and choosing one keeps it") {
    App app;
    app.session.desktop = Theme::dark;
    CHECK(app.theme() == Theme::dark);
    const auto orders = evenclose::apply(app, Intent{SetTheme{ThemeWish::light}});
    REQUIRE(orders.size() == 1);
    CHECK(std::get<KeepSettings>(orders[0]).settings.theme == ThemeWish::light);
    CHECK(app.theme() == Theme::light);
    evenclose::apply(app, Intent{SetTheme{ThemeWish::as_desktop}});
    CHECK(app.theme() == Theme::dark);
}
