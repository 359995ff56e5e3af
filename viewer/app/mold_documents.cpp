#include "viewer/app/mold_documents.hpp"

#include <algorithm>
#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;

MoldDocuments mold_documents(const fs::path& folder, const MoldSearch& search) {
    MoldDocuments found;
    std::error_code error;
    std::size_t seen = 0;
    fs::recursive_directory_iterator at(folder, fs::directory_options::skip_permission_denied, error);
    for (; !error && at != fs::recursive_directory_iterator(); at.increment(error)) {
        if (++seen > search.entries || found.files.size() >= search.molds) {
            found.cut_short = true;
            break;
        }
        std::error_code unknown;
        if (at->path().string().ends_with(".mold.json") && at->is_regular_file(unknown)) {
            found.files.push_back(at->path());
        }
        if (at.depth() >= search.depth) {
            at.disable_recursion_pending();
        }
    }
    if (error) {
        found.fault = error.message();
    }
    std::sort(found.files.begin(), found.files.end());
    return found;
}

} // namespace evenclose
