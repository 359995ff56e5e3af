#include "viewer/cli/mold_files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <system_error>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> molds_in(const fs::path& folder, std::error_code& error) {
    std::vector<fs::path> found;
    fs::recursive_directory_iterator at(folder, fs::directory_options::skip_permission_denied, error);
    for (; !error && at != fs::recursive_directory_iterator(); at.increment(error)) {
        std::error_code unknown;
        if (at->path().string().ends_with(".mold.json") && at->is_regular_file(unknown)) {
            found.push_back(at->path());
        }
    }
    std::sort(found.begin(), found.end());
    return found;
}

} // namespace

std::optional<std::vector<fs::path>> mold_files(const std::vector<std::string>& words, std::ostream& err) {
    std::vector<fs::path> files;
    bool usable = true;
    for (const std::string& word : words) {
        std::error_code error;
        if (!fs::is_directory(word, error)) {
            files.emplace_back(word);
            continue;
        }
        const std::vector<fs::path> found = molds_in(word, error);
        if (error) {
            err << fmt::format("evenclose: {}: {}\n", word, error.message());
            usable = false;
        } else if (found.empty()) {
            err << fmt::format("evenclose: {}: no mold document in this folder; their names end in .mold.json\n", word);
            usable = false;
        }
        files.insert(files.end(), found.begin(), found.end());
    }
    return usable ? std::optional(files) : std::nullopt;
}

} // namespace evenclose
