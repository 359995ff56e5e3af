// viewer/app/watched_files.hpp: the files that an open set-up hangs on, and how each of them stood when it was read.
//
// A stamp is taken before its file is read, so that whatever is written afterwards shows as another stamp. Where a file was
// written within the last tick of the clock that stamps it, a later change might bear the same stamp; so it is waited for.
#pragma once

#include "scene/documents/document_texts.hpp"

#include <cstdint>
#include <filesystem>
#include <map>
#include <set>

namespace evenclose {

struct FileStamp {
    bool there = false;
    std::uint64_t device = 0, number = 0, bytes = 0; // number: of its inode; a file renamed over it has another
    std::int64_t written_ns = 0;                     // since 1970
    bool operator==(const FileStamp&) const = default;
};
[[nodiscard]] FileStamp stamp_of(const std::filesystem::path& file); // links are followed

using FileStamps = std::map<std::filesystem::path, FileStamp>; // absolute paths, no dots in them

/// The set-up at `file`, what it names and what those name in their turn, so far as `texts` tell; files need not be there.
[[nodiscard]] std::set<std::filesystem::path> files_behind(const std::filesystem::path& file,
                                                           const DocumentTexts& texts);

struct StampedTexts {
    DocumentTexts texts; // as gathered_texts() gives them
    FileStamps stamps;   // of files_behind(), none younger than the texts
};
/// Waits some hundredths of a second where a file is being written at this very moment.
[[nodiscard]] StampedTexts stamped_texts(const std::filesystem::path& file, const DocumentTexts& texts);

} // namespace evenclose
