// tests/apart/wicked_reader.hpp: a reader of meshes that has been taken over by the file that it reads: an OBJ whose first line
// is "# do WORD ...". Any other file goes to the real reader.
#pragma once

#include "scene/mesh/apart/apart.hpp"

namespace evenclose::test {

/// crash, abort, recurse, leave, killed, spin, sleep, bloat, swell: ends badly, or never.
/// many: answers with more than is allowed. threads: works with some. shrunk: waits until its file became smaller.
/// wait: until its file begins with something else, then answers.
/// system: tries what a reader has no business to do; says what of it went.
/// beside NAME ...: asks for files, says what came.
/// forge: tells the program in the helper's stead how it ended, then answers. no_answer: answers nothing.
/// other_memory: answers with memory that it may still change.
[[nodiscard]] RawResult wicked_reader(const OpenFile& file, MeshFormat format, const FilesBeside& beside);

} // namespace evenclose::test
