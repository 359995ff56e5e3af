// checks/clearance/pair_search.hpp: the certified search over pairs of boxes, all of the stroke at once.
//
// A piece of work is a pair of nodes and a range of travel cells (travel_cells.hpp). A bound on the pair, linear in
// travel, trims the range from both ends; what is left is cut where it is widest: the longer box, or the range when the
// body travels far against the boxes' size. Two leaves come down to pairs of triangles (triangle_bounds.hpp). A cell in
// which a pair cannot be settled is cut in two once all other work is done, at the travel where contact begins or ends
// if it does, and the work left over there is taken up again.
//
// The same answer for any number of threads: work is dealt in rounds. A round's tasks are fixed by the list of work
// alone; each goes depth-first on a copy of the cells up to a fixed amount; copies are merged and left-over work is
// collected in order of tasks. Nothing depends on which task ran first. Memory: the list of work is last in, first out,
// so it stays as short as a depth-first search's, times the tasks of a round.
#pragma once

#include "checks/clearance/hierarchy.hpp"
#include "checks/clearance/relative_motion.hpp"
#include "checks/clearance/travel_cells.hpp"
#include "checks/progress.hpp"

#include <cstddef>
#include <vector>

namespace evenclose {

struct SearchedPair {
    const TriangleMesh& first_mesh;
    const Hierarchy& first;
    const TriangleMesh& second_mesh;
    const Hierarchy& second;
};

struct SearchCounts {
    std::size_t boxes = 0, triangles = 0; // pairs looked at
    std::size_t cuts = 0, rounds = 0;
    bool budget_spent = false;
};

/// The share of the whole sweep that this search stands for, for the progress told.
struct ProgressShare {
    Progress* progress = nullptr;
    double from = 0, to = 1;
};

/// Searches until every pair reaches every cell's `wanted`, cutting cells as needed, or `budget` pairs were looked at
/// (what is left is then given up: TravelCell::given_up_mm). Needs: cells fitted to the motion. Adds to `counts`.
/// Gives: false if cancelled (the cells are then of no use).
bool search_pair(const SearchedPair& pair, const RelativeMotion& motion, const Goal& goal, std::size_t budget,
                 std::vector<TravelCell>& cells, std::uint32_t from_cell, std::uint32_t to_cell, SearchCounts& counts,
                 const ProgressShare& told);

} // namespace evenclose
