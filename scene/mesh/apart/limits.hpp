// scene/mesh/apart/limits.hpp: what a child may take to read a file of some format and size.
#pragma once

#include "scene/mesh/formats/recognise.hpp"

#include <cstdint>

namespace evenclose {

struct ReadingLimits {
    std::uint64_t memory_bytes = 0; // of its own, as RLIMIT_DATA counts
    std::uint64_t answer_bytes = 0;
    std::uint64_t cpu_s = 0;
    std::uint64_t wall_s = 0;
    std::uint64_t grace_s = 20; // so much later than this the helper itself is taken to hang
};

/// For a file of `bytes`. Whole files of any size that a shop may have stay far within; what a broken one can make a
/// reader do ends soon.
[[nodiscard]] ReadingLimits reading_limits(MeshFormat format, std::uint64_t bytes);

} // namespace evenclose
