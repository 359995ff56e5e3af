// viewer/desktop/file_dialog.hpp: a file that is chosen in the desktop's own dialog.
//
// Asked for over D-Bus, as the portal for file choosers is specified (XDG Desktop Portal,
// org.freedesktop.portal.FileChooser, https://flatpak.github.io/xdg-desktop-portal/docs/). Whatever desktop answers draws
// the dialog, with its folders, bookmarks and previews. Nothing is started where there is no session bus.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace evenclose {

struct FileDialogAsked {
    bool save = false; // a name for a file to be written; else one that is there
    std::string title;
    std::filesystem::path folder; // where the dialog begins
    std::string name = {};        // proposed, to save
    struct Filter {
        std::string words;              // "Set-ups"
        std::vector<std::string> globs; // "*.set-up.json"
    };
    std::vector<Filter> filters = {}; // the first is chosen at first; none: all files
    std::string parent = {};          // the window that asks, as the portal names windows: "x11:1a00007"; empty: none
};

struct FileDialogAnswer {
    enum class What {
        chosen,
        cancelled,
        not_offered, // no bus, no portal on it, or none that has a dialog
        unusable     // what was chosen is not a file on this machine
    };
    What what = What::not_offered;
    std::filesystem::path file = {};
};

/// There is a session bus to ask on. Quick; whether somebody answers there is found out by asking.
[[nodiscard]] bool file_dialog_thinkable();

/// Asks, and waits until a person has answered. `give_up` is looked at ten times a second; true takes the dialog away and
/// answers `cancelled`.   Threads: any, each call by itself.
[[nodiscard]] FileDialogAnswer ask_file_dialog(const FileDialogAsked& asked, const std::function<bool()>& give_up);

} // namespace evenclose
