// viewer/ui/closely_commands.hpp: the part of the table of commands (commands.hpp) that looks closely.
#pragma once

#include "viewer/ui/commands.hpp"

namespace evenclose {

[[nodiscard]] CommandGroup closely_group();

} // namespace evenclose
