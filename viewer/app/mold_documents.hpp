// viewer/app/mold_documents.hpp: the mold documents of a folder.
#pragma once

#include <cstddef>
#include <filesystem>
#include <limits>
#include <string>
#include <vector>

namespace evenclose {

struct MoldDocuments {
    std::vector<std::filesystem::path> files; // by name
    std::string fault;                        // the system's reason why the folder cannot be looked into
    bool cut_short = false;                   // there is more than `most` of what was to be looked at
};

/// How far below the folder, and at how much, is looked.
struct MoldSearch {
    int depth = std::numeric_limits<int>::max(); // 0: the folder alone
    std::size_t molds = std::numeric_limits<std::size_t>::max();
    std::size_t entries = std::numeric_limits<std::size_t>::max();
};

/// Every *.mold.json in the folder and below that can be looked into.   Threads: any.
[[nodiscard]] MoldDocuments mold_documents(const std::filesystem::path& folder, const MoldSearch& search = {});

} // namespace evenclose
