// checks/clearance/triangle_search.hpp: pairs of triangles in the cells where their boxes could not settle them.
//
// A pair is measured at a cell's ends and its middle: what is seen gives chords for the cell's upper bound and tangents
// that must reach what the cell wants. Where they do not, the slopes are parted, then the cell has to be cut.
#pragma once

#include "checks/clearance/search_work.hpp"
#include "checks/clearance/triangle_bounds.hpp"

#include <cstdint>
#include <vector>

namespace evenclose {

class TriangleSearch {
public:
    TriangleSearch(const SearchedPair& pair, const RelativeMotion& motion, const Goal& goal,
                   std::vector<TravelCell>& cells, std::vector<CellState>& states, TaskTally& tally)
        : pair_(pair), motion_(motion), goal_(goal), triangles_(pair.first_mesh, pair.second_mesh, motion),
          cells_(cells), states_(states), tally_(tally) {}

    /// All pairs of two leaves' triangles.
    void leaf_pair(const Work& work, const BoxNode& na, const BoxNode& nb);
    /// One pair that was put off (its places marked by kPlace).
    void triangle_pair(const Work& work);
    [[nodiscard]] bool tilts() const { return triangles_.tilts(); }

private:
    void over_cells(const Work& work, const Triangle& a, const Triangle& b);
    void offer(TriangleBounds::Measured measured, std::uint32_t cell, bool at_from);
    bool settle(std::uint32_t index, std::uint32_t i, const Triangle& a, std::uint32_t j, const Triangle& b);
    [[nodiscard]] Cut contact_from(const TravelCell& cell, std::uint32_t i, const Triangle& a, std::uint32_t j,
                                   const Triangle& b, bool start) const;
    bool settle_by_slopes(TravelCell& cell, std::uint32_t i, std::uint32_t j, const ShareRange& of_first,
                          const ShareRange& of_second, int depth);

    const SearchedPair& pair_;
    const RelativeMotion& motion_;
    const Goal& goal_;
    TriangleBounds triangles_;
    std::vector<TravelCell>& cells_;
    std::vector<CellState>& states_;
    TaskTally& tally_;
    int slope_parts_ = 0; // looked at for the pair and cell in hand
};

} // namespace evenclose
