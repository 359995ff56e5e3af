#include "scene/documents/named_file.hpp"

#include "scene/documents/nearest_word.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <system_error>
#include <vector>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

// Enough for a shop's folder of molds; a message must not wait for a folder of a million.
constexpr std::size_t kMostNames = 2000;

std::string nearest_name(const fs::path& file) {
    std::error_code error;
    std::vector<std::string> names;
    const fs::path folder = file.has_parent_path() ? file.parent_path() : fs::path{"."};
    for (fs::directory_iterator entry{folder, error}, end; !error && entry != end && names.size() < kMostNames;
         entry.increment(error)) {
        std::error_code ignored;
        if (entry->is_regular_file(ignored)) {
            names.push_back(entry->path().filename().string());
        }
    }
    std::sort(names.begin(), names.end()); // the same answer whatever order the disk keeps
    const std::vector<std::string_view> words{names.begin(), names.end()};
    return std::string{nearest_word(file.filename().string(), words)};
}

} // namespace

bool named_file_is_there(DocumentSource& source, ObjectCursor& object, std::string_view key, std::string_view written) {
    const fs::path file = source.resolve(written);
    std::error_code error;
    if (fs::exists(file, error)) {
        return true;
    }
    const std::string nearest = nearest_name(file);
    const std::size_t folders = written.find_last_of('/') + 1; // 0 if there are none
    object.refuse(key, fmt::format("names no file that is there: {}", shown_path(file.string())),
                  written.find('\\') != std::string_view::npos
                      ? "folders are parted by /, also where disks have letters"
                      : "a path starts from this document's folder",
                  nearest.empty() ? nearest : std::string{written.substr(0, folders)} + nearest);
    return false;
}

} // namespace evenclose
