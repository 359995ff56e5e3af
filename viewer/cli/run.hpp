// viewer/cli/run.hpp: the program behind main: reads the command line, does one thing, says how it went.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace evenclose {

/// 0 nothing no-go, 1 a no-go, 2 input unusable, 64 usage (DESIGN.md section 8). Progress goes to `err`, and only if it
/// is a terminal.
int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err);

} // namespace evenclose
