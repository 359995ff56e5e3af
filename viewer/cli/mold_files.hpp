// viewer/cli/mold_files.hpp: the molds that a command names: documents, or folders of them.
#pragma once

#include <filesystem>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// Files as they stand, also such as are not there (reading tells that); a folder gives every *.mold.json in it and below,
/// by name. Nothing when a folder holds none or cannot be looked into: that is told on `err`.
[[nodiscard]] std::optional<std::vector<std::filesystem::path>> mold_files(const std::vector<std::string>& words,
                                                                           std::ostream& err);

} // namespace evenclose
