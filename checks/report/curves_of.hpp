// checks/report/curves_of.hpp: what a run of the checks found over the travel, as diagrams.
#pragma once

#include "checks/check_list.hpp"
#include "checks/report/curve.hpp"
#include "scene/units/units.hpp"

#include <vector>

namespace evenclose {

/// Clearance of the nearest pairs (certified: never less than drawn), the platen's tilt over the deck with its limit, and
/// what each kind of jack asks of its drive under its rated load. Those of checks that were not run are left out.
/// Needs: the set-up's own assembly and results.   Threads: pure, any.
[[nodiscard]] std::vector<Curve> curves_of(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                                           UnitSystem units);

} // namespace evenclose
