// viewer/version.hpp: which evenclose this is.
#pragma once

namespace evenclose {

/// "0.2.0" (semver.org), as the top CMakeLists.txt says.
[[nodiscard]] const char* version();

} // namespace evenclose
