#include "scene/documents/source_file.hpp"

#include "scene/mesh/formats/file_state.hpp"
#include "scene/mesh/formats/open_file.hpp"

#include <cerrno>
#include <chrono>
#include <cstring>
#include <fcntl.h>
#include <optional>
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

/// Nothing where somebody wrote meanwhile.
std::optional<std::variant<std::string, DocumentFault>> read_once(const std::filesystem::path& file) {
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK); // may have become a pipe
    if (descriptor < 0) {
        return fault(file, std::string{"cannot be read: "} + std::strerror(errno), "");
    }
    const OpenFile opened = OpenFile::handed_over(descriptor);
    const std::optional<FileState> state = FileState::of(descriptor);
    if (!state) {
        return fault(file, std::string{"cannot be read: "} + std::strerror(errno), "");
    }
    std::string bytes;
    char block[1U << 16U];
    // Counted while reading: the size told beforehand may be out of date.
    for (;;) {
        errno = 0;
        const std::size_t got = opened.read(bytes.size(), block, sizeof block);
        if (got == 0) {
            break;
        }
        bytes.append(block, got);
        if (bytes.size() > kLargestDocument_bytes) {
            return fault(file, "is larger than 32 MB", "no document is; is this the right file?");
        }
    }
    if (errno != 0) {
        return fault(file, std::string{"cannot be read to its end: "} + std::strerror(errno), "");
    }
    if (!state->lasts(descriptor)) {
        return std::nullopt;
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
        if (auto read = read_once(file)) {
            return *std::move(read);
        }
        std::this_thread::sleep_for(kUntilWritten);
    }
    return fault(file, "changed while it was read", "try again once it is written");
}

} // namespace evenclose
