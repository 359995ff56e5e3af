// scene/mesh/apart/helper.hpp: the process that forks a child for each order and tells how the child ended.
#pragma once

#include "scene/mesh/apart/apart.hpp"
#include "scene/mesh/apart/channel.hpp"
#include "scene/mesh/apart/child.hpp"

namespace evenclose {

[[nodiscard]] Message order_message(const ReadingOrder& order);

/// Until the other end of `orders` is closed; then what it forked ends with it.
/// Needs: a process forked for this, of one thread.
[[noreturn]] void run_helper(Handle orders, MeshReader reader);

} // namespace evenclose
