#include "scene/mesh/formats/files_beside.hpp"

#include <fcntl.h>
#include <linux/openat2.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <string_view>

namespace evenclose {
namespace {

constexpr int kFlags = O_RDONLY | O_CLOEXEC | O_NONBLOCK;
constexpr const char* kAllowed = "a mesh file may name files in its own folder and below";

bool leads_out(const std::filesystem::path& path) {
    return path.is_absolute() || std::find(path.begin(), path.end(), "..") != path.end();
}

bool is_link(int folder, const std::filesystem::path& name) {
    struct stat about {};
    return ::fstatat(folder, name.c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0 && S_ISLNK(about.st_mode);
}

/// For Linux before 5.6, and for containers that do not let openat2 through: each folder on the way opened by itself, no link
/// followed, wherever it may lead.
int open_step_by_step(int folder, const std::filesystem::path& path) {
    int at = folder;
    for (auto part = path.begin(); part != path.end(); ++part) {
        const bool last = std::next(part) == path.end();
        const int next = ::openat(at, part->c_str(), kFlags | O_NOFOLLOW | (last ? 0 : O_DIRECTORY));
        const int error = errno != ENOTDIR || next >= 0 ? errno : is_link(at, *part) ? ELOOP : ENOTDIR;
        if (at != folder) {
            ::close(at);
        }
        if (next < 0) {
            errno = error;
            return -1;
        }
        at = next;
    }
    return at;
}

int open_below(int folder, const std::filesystem::path& path) {
    open_how how{};
    how.flags = kFlags;
    how.resolve = RESOLVE_BENEATH | RESOLVE_NO_MAGICLINKS;
    const long opened = ::syscall(SYS_openat2, folder, path.c_str(), &how, sizeof how);
    if (opened < 0 && (errno == ENOSYS || errno == EPERM || errno == E2BIG)) {
        return open_step_by_step(folder, path);
    }
    return static_cast<int>(opened);
}

} // namespace

FilesBeside files_beside(const std::filesystem::path& mesh_file) {
    const std::filesystem::path folder = mesh_file.has_parent_path() ? mesh_file.parent_path() : ".";
    return [folder](const std::string& written) -> std::variant<OpenFile, std::string> {
        const std::filesystem::path path(written);
        if (path.empty() || written.find('\0') != std::string::npos || leads_out(path)) {
            return std::string(kAllowed);
        }
        const int base = ::open(folder.c_str(), O_PATH | O_DIRECTORY | O_CLOEXEC);
        if (base < 0) {
            return std::string("cannot be opened: ") + std::strerror(errno);
        }
        const int opened = open_below(base, path);
        const int error = errno;
        ::close(base);
        if (opened >= 0) {
            return OpenFile::adopt(opened);
        }
        switch (error) {
        case ENOENT:
        case ENOTDIR:
            return std::string("no such file");
        case EXDEV:
            return std::string("it is a link that leads elsewhere; ") + kAllowed;
        case ELOOP:
            return std::string("it is a link that cannot be followed; ") + kAllowed;
        default:
            return std::string("cannot be opened: ") + std::strerror(error);
        }
    };
}

} // namespace evenclose
