// checks/clearance/conclusion.hpp: from searched cells to the answer: spans, contacts, what kind of contact, who is inside
// whom, and the least clearance with its place.
#pragma once

#include "checks/clearance/sweep.hpp"
#include "checks/clearance/swept_piece.hpp"
#include "checks/progress.hpp"

#include <vector>

namespace evenclose {

/// Needs: pieces in order of travel, without holes. If cancelled on the way the answer is of no use.
[[nodiscard]] Sweep conclusion(const SweptBody& first, const SweptBody& second, const SweepRequest& asked,
                               const Goal& goal, const std::vector<SweptPiece>& pieces, bool budget_spent,
                               const Progress& progress);

} // namespace evenclose
