// viewer/ui/open_sheet.hpp: the sheet on which a set-up is found: a path to type, and what lies in that folder.
#pragma once

#include "viewer/ui/panel.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace evenclose {

struct FolderEntry {
    std::string name; // as shown; folders end with '/'
    std::filesystem::path path;
    bool folder = false;
};

/// Folders and .json files of the folder that `typed` names or is in, whose names begin with what is typed after the
/// last '/'; folders first, by name, the folder above at the very top. Hidden ones only when asked for by a dot.
/// A folder that cannot be read has no entries. "~" is the person's home.
[[nodiscard]] std::vector<FolderEntry> matching_entries(const std::string& typed);
[[nodiscard]] std::filesystem::path typed_path(const std::string& typed);

class OpenSheet {
public:
    void draw(const Desk& desk, const Rect& window);
    /// Takes up `folder_of`'s folder at the next opening.
    void closed() { fresh_ = true; }

private:
    bool fresh_ = true;
    int select_end_frames_ = 0;
    std::string typed_;
    std::string listed_for_;
    std::vector<FolderEntry> entries_;
    std::string fault_;
};

} // namespace evenclose
