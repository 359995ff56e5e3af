#include "scene/mesh/formats/open_file.hpp"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>

namespace evenclose {

std::variant<OpenFile, std::string> OpenFile::open(const std::filesystem::path& path) {
    // Not to wait for ever at a pipe.
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0) {
        return errno == ENOENT || errno == ENOTDIR ? std::string("no such file")
                                                   : std::string("cannot be opened: ") + std::strerror(errno);
    }
    return adopt(descriptor);
}

OpenFile OpenFile::handed_over(int descriptor) {
    const off_t size = ::lseek(descriptor, 0, SEEK_END);
    return {descriptor, size > 0 ? static_cast<std::size_t>(size) : 0};
}

std::variant<OpenFile, std::string> OpenFile::adopt(int descriptor) {
    OpenFile file(descriptor, 0);
    struct stat about {};
    if (::fstat(descriptor, &about) != 0) {
        return std::string("cannot be read: ") + std::strerror(errno);
    }
    if (S_ISDIR(about.st_mode)) {
        return std::string("is a folder, not a mesh file");
    }
    if (!S_ISREG(about.st_mode)) {
        return std::string("is no plain file");
    }
    file.opened_ = FileState::of(descriptor);
    file.size_ = file.opened_ ? file.opened_->size() : 0;
    if (file.size_ == 0) {
        return std::string("is empty (0 bytes)");
    }
    return file;
}

OpenFile::OpenFile(OpenFile&& other) noexcept
    : descriptor_(std::exchange(other.descriptor_, -1)), size_(std::exchange(other.size_, 0)), opened_(other.opened_) {}

OpenFile::~OpenFile() {
    if (descriptor_ >= 0) {
        ::close(descriptor_);
    }
}

std::size_t OpenFile::read(std::size_t offset, char* into, std::size_t count) const {
    std::size_t done = 0;
    while (done < count) {
        const ssize_t got = ::pread(descriptor_, into + done, count - done, static_cast<off_t>(offset + done));
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got <= 0) {
            break;
        }
        done += static_cast<std::size_t>(got);
    }
    return done;
}

bool OpenFile::unchanged() const { return opened_ && opened_->lasts(descriptor_); }

std::optional<FileText> whole(const OpenFile& file) {
    auto bytes = std::make_unique_for_overwrite<char[]>(file.size());
    if (file.read(0, bytes.get(), file.size()) != file.size()) {
        return std::nullopt;
    }
    return FileText{std::move(bytes), file.size()};
}

} // namespace evenclose
