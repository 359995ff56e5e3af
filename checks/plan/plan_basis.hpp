// checks/plan/plan_basis.hpp: what a plan starts from, taken from a set-up that is there.
#pragma once

#include "checks/plan/openings.hpp"

#include <optional>

namespace evenclose {

/// Intermediate platens as the set-up has them; else as the press's own platen, `thickness_mm` thick if that is given.
[[nodiscard]] IntermediatePlaten platen_like(const Setup& like, const std::optional<double>& thickness_mm);

/// The molds that are in the set-up, each once, in the order of its openings, their files named from where the set-up stands.
/// Needs: a set-up that was read from a file, with at least one opening.
[[nodiscard]] PlanBasis basis_of(const Setup& setup);

} // namespace evenclose
