// checks/clearance/first_cells.hpp: the cells that the search over one piece of travel starts from, with upper bounds from
// quick guesses.
//
// Good guesses are what makes the certified search short: it then looks at little but what proves them right.
#pragma once

#include "checks/clearance/nearest_search.hpp"
#include "checks/clearance/pair_search.hpp"
#include "checks/clearance/travel_cells.hpp"

#include <vector>

namespace evenclose {

class FirstCells {
public:
    FirstCells(const SearchedPair& pair, const Goal& goal) : pair_(pair), goal_(goal) {}

    [[nodiscard]] std::vector<TravelCell> cells_of(const RelativeMotion& motion) const;
    /// The whole piece as one cell, from one short guess in its middle.
    [[nodiscard]] TravelCell one_cell(const RelativeMotion& motion) const;
    /// Upper bounds: a guess in the middle of each cell, starting from the one beside it (or from the only one).
    void fill(const RelativeMotion& motion, std::vector<TravelCell>& cells, const std::vector<Guess>& guesses) const;
    /// A near pair over the corners and the middle of the slopes.
    [[nodiscard]] Guess best_guess(const RelativeMotion& motion, Travel at) const;
    /// A pair in touch if there is one; else a near one.
    [[nodiscard]] Guess guess_at(const RelativeMotion& motion, Travel at, const Witness& start) const;
    /// Of a pair in touch at `touching`: the last travel towards `end` at which it still is, to 1e-7 of the way.
    [[nodiscard]] Travel last_in_touch(const RelativeMotion& motion, const Witness& witness, Travel touching,
                                       Travel end) const;

private:
    [[nodiscard]] std::vector<TravelCell> with_contact_followed(const RelativeMotion& motion,
                                                                const std::vector<TravelCell>& cells) const;
    void follow(const RelativeMotion& motion, TravelCell rest, std::vector<TravelCell>& followed) const;
    void offer(const RelativeMotion& motion, TravelCell& cell, const Witness& witness, bool at_from) const;

    SearchedPair pair_;
    Goal goal_;
};

} // namespace evenclose
