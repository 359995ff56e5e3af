// checks/report/inputs_of.hpp: the numbers that a verdict stands on, each with where it comes from.
#pragma once

#include "scene/motion/assembly.hpp"
#include "scene/setup/setup.hpp"
#include "scene/units/units.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct StatedInput {
    std::string name, value;
    std::string source; // "set-up", "as by default", "EN 10025-2 table 7"; empty: the document of its group
};
struct InputGroup {
    std::string title;
    std::vector<StatedInput> inputs;
};

/// Press, each mold, limits, materials. A limit that is as the program sets it by itself is told as "as by default".
/// Needs: everything loaded.   Threads: pure, any.
[[nodiscard]] std::vector<InputGroup> inputs_of(const Setup& setup, const Assembly& assembly, UnitSystem units);

} // namespace evenclose
