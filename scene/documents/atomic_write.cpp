#include "scene/documents/atomic_write.hpp"

#include <fmt/format.h>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstring>
#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

/// Closes on the way out of every fault.
class Descriptor {
public:
    explicit Descriptor(int number) : number_{number} {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() { static_cast<void>(close()); }
    [[nodiscard]] int number() const { return number_; }
    [[nodiscard]] bool open() const { return number_ >= 0; }
    /// False if the last of the data could not be written, as a network disk may tell only now.
    bool close() {
        const int number = std::exchange(number_, -1);
        return number < 0 || ::close(number) == 0;
    }

private:
    int number_;
};

/// A new file that is taken away again unless it becomes the real one. Its name is known before it is there.
class NewFile {
public:
    NewFile() = default;
    NewFile(const NewFile&) = delete;
    NewFile& operator=(const NewFile&) = delete;
    ~NewFile() {
        if (made_) {
            ::unlink(name_.c_str());
        }
    }
    /// Creates it in `folder` under a name that nobody uses, for writing; -1 with errno if that cannot be. A stopped program of the
    /// same number may have left one behind, so a taken name is no fault. Need not fit the real name, which may be as long as
    /// names can be.
    int create_in(const fs::path& folder) {
        static std::atomic<unsigned> count{0};
        constexpr int tries = 1000;
        constexpr mode_t mode = 0666; // less the user's mask, as for any new file
        for (int i = 0; i < tries; ++i) {
            name_ = folder / fmt::format(".evenclose-{}-{}.new", ::getpid(), count++);
            const int number = ::open(name_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
            if (number >= 0 || errno != EEXIST) {
                made_ = number >= 0;
                return number;
            }
        }
        return -1;
    }
    /// False with errno.
    bool become(const fs::path& file) {
        made_ = ::rename(name_.c_str(), file.c_str()) != 0;
        return !made_;
    }

private:
    fs::path name_;
    bool made_ = false;
};

std::string reason(int error) {
    switch (error) {
    case ENOSPC:
    case EDQUOT:
        return "the disk is full";
    case EROFS:
        return "the disk is read-only";
    case EACCES:
    case EPERM:
        return "this user may not write there";
    case EFBIG:
        return "the file would be larger than allowed";
    default:
        return std::strerror(error);
    }
}

std::string told(const fs::path& file, std::string_view what, int error) {
    return fmt::format("{}: {}: {}; the file is as it was", file.string(), what, reason(error));
}

bool write_all(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno != EINTR) {
            return false;
        }
        bytes.remove_prefix(written > 0 ? static_cast<std::size_t>(written) : 0);
    }
    return true;
}

bool flush(int descriptor) {
    int result = 0;
    do {
        result = ::fsync(descriptor);
    } while (result != 0 && errno == EINTR);
    return result == 0;
}

} // namespace

std::optional<std::string> write_file_atomically(const fs::path& file, std::string_view bytes) {
    // Through a symbolic link to what it leads to: rename() would replace the link.
    std::error_code not_there;
    std::error_code error;
    const fs::path real = fs::is_symlink(file, not_there) ? fs::weakly_canonical(file, error) : file;
    if (error) {
        return fmt::format("{}: cannot be followed: {}", file.string(), error.message());
    }
    const fs::path folder = real.has_parent_path() ? real.parent_path() : fs::path{"."};

    struct stat before {};
    const bool exists = ::stat(real.c_str(), &before) == 0;
    if (!exists && errno != ENOENT) {
        return told(file, "cannot be written", errno);
    }
    if (exists && !S_ISREG(before.st_mode)) {
        return fmt::format("{}: is a folder or device, no file; nothing was written", file.string());
    }
    // A new file could take the place of one that is write-protected, but that is not what the protection is for.
    if (exists && ::access(real.c_str(), W_OK) != 0) {
        return told(file, "is write-protected", errno);
    }

    NewFile fresh;
    Descriptor out{fresh.create_in(folder)};
    if (!out.open()) {
        return errno == ENOENT ? fmt::format("{}: there is no folder {}", file.string(), folder.string())
                               : told(file, fmt::format("cannot write in the folder {}", folder.string()), errno);
    }
    if (exists) {
        if (before.st_uid != ::geteuid() || before.st_gid != ::getegid()) {
            // Only root may give files away; for others the file becomes theirs, as with any editor.
            static_cast<void>(::fchown(out.number(), before.st_uid, before.st_gid) == 0);
        }
        if (::fchmod(out.number(), before.st_mode & 0777U) != 0) {
            return told(file, "its permissions cannot be kept", errno);
        }
    }
    if (!write_all(out.number(), bytes) || !flush(out.number())) {
        return told(file, "cannot be written", errno);
    }
    if (!out.close()) {
        return told(file, "cannot be written", errno);
    }
    if (!fresh.become(real)) {
        return told(file, "cannot be replaced", errno);
    }
    // Some network disks cannot flush a folder (EINVAL). The file is whole and in place, so that is no fault.
    const Descriptor opened{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
    if (opened.open()) {
        static_cast<void>(flush(opened.number()));
    }
    return {};
}

} // namespace evenclose
