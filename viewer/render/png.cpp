#include "scene/documents/atomic_write.hpp"
#include "viewer/render/renderer.hpp"

#include <fmt/format.h>
#include <stb_image_write.h>

#include <algorithm>
#include <exception>
#include <new>
#include <optional>
#include <stdexcept>
#include <utility>

namespace evenclose {
namespace {

struct Bytes {
    std::string all;
    bool no_memory = false;
};

/// Called from within C, which nothing may be thrown through.
void append(void* bytes, void* data, int size) noexcept {
    auto& to = *static_cast<Bytes*>(bytes);
    try {
        to.all.append(static_cast<const char*>(data), static_cast<std::size_t>(size));
    } catch (const std::exception&) {
        to.no_memory = true;
    }
}

} // namespace

std::string png_bytes(const Image& image) {
    const std::size_t wanted =
        4 * static_cast<std::size_t>(std::max(image.width, 0)) * static_cast<std::size_t>(std::max(image.height, 0));
    if (wanted == 0 || image.rgba.size() != wanted) {
        throw std::runtime_error(fmt::format("cannot write the picture: {} x {} pixels with {} bytes is none",
                                             image.width, image.height, image.rgba.size()));
    }
    Bytes bytes;
    if (stbi_write_png_to_func(append, &bytes, image.width, image.height, 4, image.rgba.data(), 4 * image.width) == 0 ||
        bytes.no_memory) {
        throw std::bad_alloc();
    }
    return std::move(bytes.all);
}

void write_png(const Image& image, const std::string& file) {
    std::string bytes;
    try {
        bytes = png_bytes(image);
    } catch (const std::runtime_error& none) {
        throw std::runtime_error(fmt::format("{}: {}", file, none.what()));
    }
    if (const std::optional<std::string> fault = write_file_atomically(file, bytes)) {
        throw std::runtime_error(*fault);
    }
}

} // namespace evenclose
