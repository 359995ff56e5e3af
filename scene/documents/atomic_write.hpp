// scene/documents/atomic_write.hpp: writes a file wholly or not at all.
//
// POSIX.1-2017: rename() replaces a name atomically; fsync() before it, so that the new name never leads to data that is
// not on the disk yet, and fsync() of the folder after it, so that the new name is there after a power cut.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace evenclose {

/// Whenever the program or the machine stops, `file` holds the old bytes or the new ones; stopped in between, an
/// unfinished ".evenclose-...new" may stay beside it. An existing file keeps its
/// permissions, and its owner and group where that is allowed; a symbolic link stays and its target is written.
/// Faults: one clear line (no right to write the file or in its folder, disk full, no such folder, a folder or device
/// in the file's place); the file is untouched then and nothing is left beside it.
/// Threads: any; of two that write the same file at once, one comes out last.
[[nodiscard]] std::optional<std::string> write_file_atomically(const std::filesystem::path& file,
                                                               std::string_view bytes);

} // namespace evenclose
