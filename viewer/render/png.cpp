#include "viewer/render/renderer.hpp"

#include <fmt/format.h>
#include <stb_image_write.h>

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <memory>
#include <stdexcept>
#include <system_error>
#include <unistd.h>

namespace evenclose {
namespace {

std::runtime_error fault(const std::string& file, int error) {
    return std::runtime_error(
        fmt::format("{}: cannot write the picture: {}", file, std::generic_category().message(error)));
}

void append(void* bytes, void* data, int size) {
    static_cast<std::string*>(bytes)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
}

/// 0, or the system's error. The bytes are on the disc, not only on their way, before the name is given.
int write_whole(int descriptor, const std::string& bytes) {
    std::size_t done = 0;
    while (done < bytes.size()) {
        const ssize_t wrote = ::write(descriptor, bytes.data() + done, bytes.size() - done);
        if (wrote < 0 && errno == EINTR) {
            continue;
        }
        if (wrote < 0) {
            return errno;
        }
        done += static_cast<std::size_t>(wrote);
    }
    return ::fsync(descriptor) == 0 || errno == EINVAL || errno == EROFS ? 0 : errno;
}

} // namespace

std::string png_bytes(const Image& image) {
    const std::size_t wanted =
        4 * static_cast<std::size_t>(std::max(image.width, 0)) * static_cast<std::size_t>(std::max(image.height, 0));
    if (wanted == 0 || image.rgba.size() != wanted) {
        throw std::runtime_error(fmt::format("cannot write the picture: {} x {} pixels with {} bytes is none",
                                             image.width, image.height, image.rgba.size()));
    }
    std::string bytes;
    if (stbi_write_png_to_func(append, &bytes, image.width, image.height, 4, image.rgba.data(), 4 * image.width) == 0) {
        throw std::runtime_error("cannot write the picture: no memory");
    }
    return bytes;
}

void write_png(const Image& image, const std::string& file) {
    std::string bytes;
    try {
        bytes = png_bytes(image);
    } catch (const std::runtime_error& none) {
        throw std::runtime_error(fmt::format("{}: {}", file, none.what()));
    }
    // Beside the file, so that the rename stays on one file system; the process number keeps two writers apart.
    const std::string unfinished = fmt::format("{}.{}.part", file, ::getpid());
    const int descriptor = ::open(unfinished.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    if (descriptor < 0) {
        throw fault(file, errno);
    }
    int error = write_whole(descriptor, bytes);
    if (::close(descriptor) != 0 && error == 0) {
        error = errno;
    }
    if (error == 0 && std::rename(unfinished.c_str(), file.c_str()) != 0) {
        error = errno;
    }
    if (error != 0) {
        ::unlink(unfinished.c_str());
        throw fault(file, error);
    }
}

} // namespace evenclose
