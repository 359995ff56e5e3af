// viewer/app/open_entries.hpp: what lies where a path is being typed: folders and documents to choose from.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace evenclose {

struct FolderEntry {
    std::string name; // as shown; folders end with '/'
    std::filesystem::path path;
    enum class Rank { folder, setup, other } rank = Rank::other; // a set-up by its name: *.set-up.json
};

/// Folders and .json files of the folder that `typed` names or is in, whose names begin with what is typed after the
/// last '/'; folders first, by name, the folder above at the very top. Hidden ones only when asked for by a dot.
/// A folder that cannot be read has no entries. "~" is the person's home; a path typed behind another one
/// ("/home/press//tmp/") begins anew.
[[nodiscard]] std::vector<FolderEntry> matching_entries(const std::string& typed);
[[nodiscard]] std::filesystem::path typed_path(const std::string& typed);

} // namespace evenclose
