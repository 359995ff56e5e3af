#include "checks/clearance/first_cells.hpp"

#include "checks/clearance/piercing.hpp"
#include "checks/clearance/triangle_bounds.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

constexpr std::size_t kCoarseGuesses = 17;
constexpr std::size_t kBoxesForGuess = 1500;
constexpr std::size_t kBoxesForFar = 40;
constexpr std::size_t kBoxesForContact = 50'000; // some milliseconds, where surfaces cross along a line only
constexpr std::size_t kMostCells = 4096;         // to start with; they are cut further where it is needed

std::vector<Slope> corners_and_middle(const BodyInFrame& body, Travel at) {
    if (!body.tilts) {
        return {{}};
    }
    const SlopeRange range = body.ride->slope_range(at);
    return {range.middle(), range.low, {range.low.x, range.high.y}, {range.high.x, range.low.y}, range.high};
}

TravelCell part_of_cell(const RelativeMotion& motion, const TravelCell& whole, Travel from, Travel to) {
    std::vector<TravelCell> part(1);
    part[0].from = from;
    part[0].to = to;
    part[0].witness = whole.witness;
    fit_to(part, motion);
    return part[0];
}

} // namespace

Guess FirstCells::best_guess(const RelativeMotion& motion, Travel at) const {
    Guess best;
    best.nearest.distance = std::numeric_limits<double>::infinity();
    for (const Slope& of_first : corners_and_middle(motion.first, at)) {
        for (const Slope& of_second : corners_and_middle(motion.second, at)) {
            const Guess guess = nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion,
                                              at, of_first, of_second, kBoxesForGuess,
                                              std::isfinite(best.nearest.distance) ? &best.witness : nullptr);
            if (guess.nearest.distance < best.nearest.distance) {
                best = guess;
            }
        }
    }
    return best;
}

TravelCell FirstCells::one_cell(const RelativeMotion& motion) const {
    std::vector<TravelCell> cell(1);
    cell[0].from = motion.from;
    cell[0].to = motion.to;
    fit_to(cell, motion);
    const Travel middle{0.5 * (motion.from.mm + motion.to.mm)};
    const Guess guess = nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion, middle,
                                      motion.first.middle(middle), motion.second.middle(middle), kBoxesForFar, nullptr);
    offer(motion, cell[0], guess.witness, true);
    return cell[0];
}

/// Cells as wide as chord and tangent allow: over a rise h at a distance d they part by about h^2 / 8 d.
std::vector<TravelCell> FirstCells::cells_of(const RelativeMotion& motion) const {
    std::vector<TravelCell> cells;
    const double length = (motion.to - motion.from).mm;
    const double rise = std::abs(motion.rise_mm(motion.to) - motion.rise_mm(motion.from));
    const bool tilts = motion.first.tilts || motion.second.tilts;
    const auto range_moves = [&](const BodyInFrame& body) {
        if (!body.tilts) {
            return false;
        }
        const SlopeRange a = body.ride->slope_range(motion.from);
        const SlopeRange b = body.ride->slope_range(motion.to);
        return a.low.x != b.low.x || a.low.y != b.low.y || a.high.x != b.high.x || a.high.y != b.high.y;
    };
    if (length <= 0 || (rise == 0 && !(tilts && (range_moves(motion.first) || range_moves(motion.second))))) {
        cells.push_back({});
        cells.back().from = motion.from;
        cells.back().to = motion.to;
        fill(motion, cells, {best_guess(motion, motion.from)});
        return cells;
    }
    std::vector<Guess> coarse(kCoarseGuesses);
    const auto travel_of = [&](std::size_t i) {
        return Travel{motion.from.mm + length * static_cast<double>(i) / (kCoarseGuesses - 1)};
    };
    tbb::parallel_for(std::size_t{0}, kCoarseGuesses, [&](std::size_t i) {
        coarse[i] = best_guess(motion, travel_of(i));
        coarse[i] = guess_at(motion, travel_of(i), coarse[i].witness);
    });
    const double mm_per_travel = std::max(rise / length, 1e-3);
    const double least = std::max(length / static_cast<double>(kMostCells), 0.25 / mm_per_travel);
    double at = motion.from.mm;
    std::vector<Guess> guesses;
    while (at < motion.to.mm) {
        const double place = (at - motion.from.mm) / length * (kCoarseGuesses - 1);
        const auto before = std::min(static_cast<std::size_t>(place), kCoarseGuesses - 2);
        const double share = place - static_cast<double>(before);
        const double distance = coarse[before].nearest.distance +
                                share * (coarse[before + 1].nearest.distance - coarse[before].nearest.distance);
        double width = std::sqrt(0.5 * goal_.slack_mm * std::max(distance, 0.0));
        width = std::max(width, 0.4 * (distance - goal_.interest_mm)); // far off nothing need be tight
        width = std::clamp(width / mm_per_travel, least, length / 8);
        TravelCell cell;
        cell.from = {at};
        at = motion.to.mm - at < 1.5 * width ? motion.to.mm : at + width;
        cell.to = {at};
        cells.push_back(cell);
        guesses.push_back(share < 0.5 ? coarse[before] : coarse[before + 1]);
    }
    fill(motion, cells, guesses);
    const bool touches = std::any_of(coarse.begin(), coarse.end(),
                                     [](const Guess& guess) { return guess.nearest.distance <= kTouch_mm; });
    return touches ? with_contact_followed(motion, cells) : cells;
}

/// Contact is followed through the cells in which a guess found it: from pair to pair, each for as long as it lasts.
/// What is certain from the start need not be searched for.
std::vector<TravelCell> FirstCells::with_contact_followed(const RelativeMotion& motion,
                                                          const std::vector<TravelCell>& cells) const {
    std::vector<TravelCell> followed;
    Guess at_from = guess_at(motion, cells.front().from, cells.front().witness);
    for (const TravelCell& cell : cells) {
        const Guess at_to = guess_at(motion, cell.to, cell.witness);
        TravelCell rest = cell;
        if (at_from.nearest.distance > kTouch_mm && at_to.nearest.distance <= kTouch_mm) {
            const Travel begins = last_in_touch(motion, at_to.witness, cell.to, cell.from);
            if (begins.mm - cell.from.mm > goal_.least_width_mm) {
                TravelCell before = part_of_cell(motion, cell, cell.from, begins);
                offer(motion, before, cell.witness, true);
                offer(motion, before, at_to.witness, false);
                followed.push_back(before);
                rest.from = begins;
                rest.witness = at_to.witness;
            }
            follow(motion, rest, followed);
        } else if (at_from.nearest.distance <= kTouch_mm && !cell.in_contact()) {
            rest.witness = at_from.witness;
            follow(motion, rest, followed);
        } else {
            followed.push_back(cell);
        }
        at_from = at_to;
    }
    fit_to(followed, motion);
    return followed;
}

/// A pair in touch if there is one; else a near one.
Guess FirstCells::guess_at(const RelativeMotion& motion, Travel at, const Witness& start) const {
    const Guess near = nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion, at,
                                     start.slope_first, start.slope_second, kBoxesForGuess / 4, &start);
    if (near.nearest.distance <= kTouch_mm) {
        return near;
    }
    const Guess touching = contact_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion, at,
                                         start.slope_first, start.slope_second, kBoxesForContact);
    return touching.nearest.distance <= kTouch_mm ? touching : near;
}

void FirstCells::follow(const RelativeMotion& motion, TravelCell rest, std::vector<TravelCell>& followed) const {
    while (rest.width_mm() > 0) {
        const Guess guess =
            nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion, rest.from,
                          rest.witness.slope_first, rest.witness.slope_second, kBoxesForGuess / 4, &rest.witness);
        Travel ends = rest.from;
        if (guess.nearest.distance <= kTouch_mm) {
            ends = last_in_touch(motion, guess.witness, rest.from, rest.to);
        }
        if (ends.mm - rest.from.mm <= goal_.least_width_mm) {
            TravelCell left = part_of_cell(motion, rest, rest.from, rest.to);
            offer(motion, left, rest.witness, true);
            offer(motion, left, guess.witness, true);
            followed.push_back(left);
            return;
        }
        TravelCell part = part_of_cell(motion, rest, rest.from, ends);
        offer(motion, part, guess.witness, true);
        followed.push_back(part);
        rest.from = ends;
        rest.witness = guess.witness;
    }
}

/// Of a pair in touch at `touching`: the last travel towards `end` at which it still is, to 1e-7 of the way.
Travel FirstCells::last_in_touch(const RelativeMotion& motion, const Witness& witness, Travel touching,
                                 Travel end) const {
    const TriangleBounds bounds(pair_.first_mesh, pair_.second_mesh, motion);
    double touches = 0;
    double beyond = 1;
    const auto at = [&](double share) { return Travel{touching.mm + share * (end.mm - touching.mm)}; };
    if (bounds.measure_on(witness, end).distance <= kTouch_mm) {
        return end;
    }
    for (int step = 0; step < 24; ++step) {
        const double middle = 0.5 * (touches + beyond);
        (bounds.measure_on(witness, at(middle)).distance <= kTouch_mm ? touches : beyond) = middle;
    }
    return at(touches);
}

void FirstCells::offer(const RelativeMotion& motion, TravelCell& cell, const Witness& witness, bool at_from) const {
    const TriangleBounds bounds(pair_.first_mesh, pair_.second_mesh, motion);
    TriangleBounds::Measured measured{bounds.measure_on(witness, at_from ? cell.from : cell.to), witness};
    const Line chord = bounds.upper(measured, cell, at_from);
    improve(cell, chord, measured.witness, goal_, 0);
}

/// First upper bounds: a guess in the middle of each cell, starting from the coarse one beside it.
void FirstCells::fill(const RelativeMotion& motion, std::vector<TravelCell>& cells,
                      const std::vector<Guess>& guesses) const {
    fit_to(cells, motion);
    tbb::parallel_for(std::size_t{0}, cells.size(), [&](std::size_t i) {
        TravelCell& cell = cells[i];
        const Witness& start = guesses[std::min(i, guesses.size() - 1)].witness;
        const Travel middle{0.5 * (cell.from.mm + cell.to.mm)};
        const Guess guess = nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion,
                                          middle, start.slope_first, start.slope_second, kBoxesForGuess / 4, &start);
        for (const Witness& witness : {guess.witness, start}) {
            offer(motion, cell, witness, true);
        }
    });
}

} // namespace evenclose
