// viewer/app/one_core_less.hpp: how many threads work behind an open window.
#pragma once

#include <algorithm>
#include <thread>

namespace evenclose {

/// One core is left to the window, so that it stays quick under the hand; no answer depends on it.
[[nodiscard]] inline int one_core_less() {
    return std::max(static_cast<int>(std::thread::hardware_concurrency()) - 1, 1);
}

} // namespace evenclose
