// viewer/cli/loaded_setup.hpp: a set-up read for a command, or its faults told, a line each.
#pragma once

#include "scene/documents/documents.hpp"

#include <iosfwd>
#include <optional>
#include <string>

namespace evenclose {

/// Nothing when the file cannot be used; then every fault stands on `err`.
[[nodiscard]] std::optional<Loaded<Setup>> setup_or_faults(const std::string& file, std::ostream& err);

} // namespace evenclose
