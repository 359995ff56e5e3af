// viewer/app/fault_words.hpp: what a person is told of something that was thrown.
#pragma once

#include <exception>
#include <new>
#include <string>

namespace evenclose {

inline constexpr const char* kNoMemory =
    "there is not enough memory for this; close other programs, or take meshes of fewer triangles";

/// Its own words; of memory that ran out what helps.
[[nodiscard]] inline std::string fault_words(const std::exception& fault) {
    return dynamic_cast<const std::bad_alloc*>(&fault) != nullptr ? kNoMemory : fault.what();
}

} // namespace evenclose
