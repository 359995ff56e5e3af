// viewer/cli/loaded_setup.hpp: a set-up or press read for a command, or its faults told, a line each.
#pragma once

#include "scene/documents/documents.hpp"

#include <iosfwd>
#include <optional>
#include <string>

namespace evenclose {

/// A set-up of the press without an opening; limits and all else that is no mold as in the set-up document `like`, if
/// one is named. Nothing when a file cannot be used; then every fault stands on `err`.
[[nodiscard]] std::optional<Setup> empty_setup(const std::string& press, const std::string& like, std::ostream& err);

/// Nothing when the file cannot be used; then every fault stands on `err`.
[[nodiscard]] std::optional<Loaded<Setup>> setup_or_faults(const std::string& file, std::ostream& err);

/// Puts a force from the command line ("28 kN") in the place of the set-up's closing force. False when it is none; then that
/// stands on `err`. An empty text leaves all as it is.
[[nodiscard]] bool close_with(Setup& setup, const std::string& force, std::ostream& err);

} // namespace evenclose
