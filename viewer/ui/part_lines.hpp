// viewer/ui/part_lines.hpp: a chosen member, head or platen in words: what it is, and what it bears when the press is closed.
#pragma once

#include "viewer/app/app.hpp"

#include <string>
#include <utility>
#include <vector>

namespace evenclose {

using PartLine = std::pair<std::string, std::string>; // what, and how much

/// Section and material; axial force, shear, bending moment and torque where each is greatest; the stress that is nearest to
/// its limit. Needs: a set-up, and a part of its press.
[[nodiscard]] std::vector<PartLine> part_lines(const App& app, const std::string& name);

/// By what it is used most, and where what is allowed comes from; empty as long as that is not known.
[[nodiscard]] std::string part_note(const App& app, const std::string& name);

} // namespace evenclose
