// viewer/cli/today.hpp: the date that is written on what is made.
#pragma once

#include <string>

namespace evenclose {

/// "2026-11-30" (ISO 8601), local; or that of SOURCE_DATE_EPOCH (reproducible-builds.org) where it is set.
[[nodiscard]] std::string today();

} // namespace evenclose
