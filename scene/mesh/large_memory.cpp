#include "scene/mesh/large_memory.hpp"

#include <sys/mman.h>

#include <cstdint>

namespace evenclose {

void wish_large_pages(void* begin, std::size_t bytes) {
    constexpr std::uintptr_t page = std::uintptr_t{2} << 20U;
    const auto from = (reinterpret_cast<std::uintptr_t>(begin) + page - 1) & ~(page - 1);
    const auto to = (reinterpret_cast<std::uintptr_t>(begin) + bytes) & ~(page - 1);
    if (begin != nullptr && to > from) {
        static_cast<void>(::madvise(reinterpret_cast<void*>(from), to - from, MADV_HUGEPAGE)); // NOLINT: a wish
    }
}

} // namespace evenclose
