// scene/mesh/apart/apart.hpp: mesh files are read by a process of their own, so that a broken or hostile one can harm nothing
// else.
//
// A program that wants this forks a helper as its first act, while it has one thread and nothing open. The helper forks a
// child for each mesh file: what the child needs is loaded already, so that it is there within a millisecond or two. The
// program opens the file and hands over the descriptor; the child can open nothing by itself. It has limits on memory, time
// and open files (limits.hpp), no network, no other process to talk to and few system calls (syscall_filter.hpp), and
// hands back what it read through sealed memory, which the program checks number by number (parcel.hpp). Further files
// that a mesh names are asked for and opened by the program under its rule (formats/files_beside.hpp).
//
//     program --order: file, channel--> helper --fork--> child --answer: sealed memory--> program
//                                         `--how the child ended----------------------------^
//
// A helper that was killed (by a person, or by the system for want of memory) is started anew by the next reading, from the
// program's own file; what was being read is read once more.
//
// Not covered: the child has the program's own addresses, for it is a fork and no new program; and where the system gives
// no seccomp (some containers) it may call the system, with the limits only.
//
// A library may do without: until start_reading_apart() was called, import_mesh() reads within the calling process.
#pragma once

#include "scene/mesh/apart/limits.hpp"
#include "scene/mesh/formats/files_beside.hpp"
#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"
#include "scene/mesh/formats/read_mesh.hpp"
#include "scene/mesh/formats/recognise.hpp"

#include <optional>

namespace evenclose {

using MeshReader = RawResult (*)(const OpenFile& file, MeshFormat format, const FilesBeside& beside);

/// Needs:  first thing in main(), with its own arguments: one thread, nothing open that a child should not have. `reader` is
///         what children run. Does not come back where this process was started as a helper in the place of one that ended.
/// Gives:  whether there is a helper now; false where the system forks none, and meshes are then read within.
///         Called again: nothing new.
bool start_reading_apart(int argc, const char* const* argv, MeshReader reader = read_mesh);
/// The same of a program that cannot be started anew: a helper that ended is missed until the program ends.
bool start_reading_apart(MeshReader reader = read_mesh);
[[nodiscard]] bool reads_apart();

/// Needs:  reads_apart(), a known format.   Threads: any, several at once.
/// Faults: NotRead: besides what the reader says, that it crashed, took too long or too much memory, that its answer is
///         none, or that no helper can be had.
///         `limits`: other ones than reading_limits() gives.
[[nodiscard]] RawResult read_apart(const OpenFile& file, MeshFormat format, const FilesBeside& beside,
                                   const std::optional<ReadingLimits>& limits = {});

} // namespace evenclose
