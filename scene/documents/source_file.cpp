#include "scene/documents/source_file.hpp"

#include <cerrno>
#include <chrono>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <system_error>
#include <thread>
#include <utility>

namespace evenclose {
namespace {

DocumentFault fault(const std::filesystem::path& file, std::string problem, std::string allowed) {
    DocumentFault result;
    result.file = file.string();
    result.problem = std::move(problem);
    result.allowed = std::move(allowed);
    return result;
}

// Who saves a document is done within this.
constexpr int kTries = 10;
constexpr std::chrono::milliseconds kUntilWritten{20};

using State = std::pair<std::uintmax_t, std::filesystem::file_time_type>;

/// Of a file that is gone meanwhile: that of no file.
State state_of(const std::filesystem::path& file) {
    std::error_code ignored;
    const std::uintmax_t bytes = std::filesystem::file_size(file, ignored);
    return {bytes, std::filesystem::last_write_time(file, ignored)};
}

std::variant<std::string, DocumentFault> read_once(const std::filesystem::path& file) {
    errno = 0;
    std::ifstream stream{file, std::ios::binary};
    if (!stream) {
        return fault(file, std::string{"cannot be read: "} + std::strerror(errno), "");
    }
    std::string bytes;
    char block[1U << 16U];
    // Counted while reading: the size told beforehand may be out of date.
    while (stream.read(block, sizeof block), stream.gcount() > 0) {
        bytes.append(block, static_cast<std::size_t>(stream.gcount()));
        if (bytes.size() > kLargestDocument_bytes) {
            return fault(file, "is larger than 32 MB", "no document is; is this the right file?");
        }
    }
    if (stream.bad()) {
        return fault(file, std::string{"cannot be read to its end: "} + std::strerror(errno), "");
    }
    return bytes;
}

} // namespace

std::variant<std::string, DocumentFault> read_source_file(const std::filesystem::path& file) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::file_status status = fs::status(file, error);
    if (status.type() == fs::file_type::not_found) {
        std::error_code ignored;
        const fs::path folder = file.has_parent_path() ? file.parent_path() : fs::path{"."};
        return fault(file, "no such file",
                     fs::is_directory(folder, ignored)
                         ? "its folder is there, the file is not"
                         : "there is no folder " + shown_path(folder.string()) + " either");
    }
    if (error) {
        return fault(file, "cannot be read: " + error.message(), "");
    }
    if (fs::is_directory(status)) {
        return fault(file, "is a folder", "name the document in it");
    }
    if (!fs::is_regular_file(status)) {
        return fault(file, "is a device or pipe, no file", "name a document");
    }
    for (int tried = 0; tried < kTries; ++tried) {
        const State before = state_of(file);
        std::variant<std::string, DocumentFault> read = read_once(file);
        if (state_of(file) == before) {
            return read;
        }
        std::this_thread::sleep_for(kUntilWritten);
    }
    return fault(file, "changed while it was read", "try again once it is written");
}

} // namespace evenclose
