#include "viewer/cli/mold_files.hpp"

#include "viewer/app/mold_documents.hpp"

#include <fmt/format.h>

#include <ostream>
#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;

std::optional<std::vector<fs::path>> mold_files(const std::vector<std::string>& words, std::ostream& err) {
    std::vector<fs::path> files;
    bool usable = true;
    for (const std::string& word : words) {
        std::error_code error;
        if (!fs::is_directory(word, error)) {
            files.emplace_back(word);
            continue;
        }
        const MoldDocuments found = mold_documents(word);
        if (!found.fault.empty()) {
            err << fmt::format("evenclose: {}: {}\n", word, found.fault);
            usable = false;
        } else if (found.files.empty()) {
            err << fmt::format("evenclose: {}: no mold document in this folder; their names end in .mold.json\n", word);
            usable = false;
        }
        files.insert(files.end(), found.files.begin(), found.files.end());
    }
    return usable ? std::optional(files) : std::nullopt;
}

} // namespace evenclose
