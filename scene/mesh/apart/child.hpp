// scene/mesh/apart/child.hpp: what the process does that reads one file.
#pragma once

#include "scene/mesh/apart/apart.hpp"
#include "scene/mesh/apart/channel.hpp"
#include "scene/mesh/apart/limits.hpp"
#include "scene/mesh/apart/syscall_filter.hpp"

namespace evenclose {

/// What an order says.
struct ReadingOrder {
    ReadingLimits limits;
    MeshFormat format = MeshFormat::unknown;
};

inline constexpr int kNoMemory = 77; // how a child ends that was not given more memory
inline constexpr int kNoAnswer = 78; // one whose answer could not be laid down

/// Needs: a process forked for this, of one thread, that owns `file` and `channel` and nothing else that is open.
[[noreturn]] void run_child(MeshReader reader, const ReadingOrder& order, Handle file, Handle channel,
                            const SyscallFilter& filter);

} // namespace evenclose
