#include "checks/clearance/brief_contact.hpp"

#include "checks/clearance/nearest_search.hpp"
#include "checks/clearance/piercing.hpp"
#include "checks/clearance/triangle_bounds.hpp"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

constexpr int kTries = 4;
constexpr int kThirds = 45;              // of a cell's width: to 1e-8 of it
constexpr std::size_t kBoxes = 400;      // for the nearest pair, from one that is near
constexpr std::size_t kMostCells = 2000; // looked into: a tenth of a second; surfaces that all but graze leave many
constexpr double kLeast_mm = 1e-9;       // of travel, left beside the cut

struct Touch {
    Travel at;
    Witness witness;
};

std::optional<Touch> touch_within(const SearchedPair& pair, const RelativeMotion& motion, const TravelCell& cell) {
    const TriangleBounds bounds(pair.first_mesh, pair.second_mesh, motion);
    Witness witness = cell.witness;
    for (int tried = 0; tried < kTries; ++tried) {
        double low = cell.from.mm;
        double high = cell.to.mm;
        const auto distance_at = [&](double travel) { return bounds.measure_on(witness, {travel}).distance; };
        for (int i = 0; i < kThirds; ++i) {
            const double before = low + (high - low) / 3;
            const double after = high - (high - low) / 3;
            (distance_at(before) <= distance_at(after) ? high : low) =
                distance_at(before) <= distance_at(after) ? after : before;
        }
        Travel nearest{0.5 * (low + high)};
        for (const Travel end : {cell.from, cell.to}) {
            nearest = distance_at(end.mm) < distance_at(nearest.mm) ? end : nearest;
        }
        if (distance_at(nearest.mm) <= kTouch_mm) {
            return Touch{nearest, witness};
        }
        const Guess guess = nearest_guess(pair.first_mesh, pair.first, pair.second_mesh, pair.second, motion, nearest,
                                          witness.slope_first, witness.slope_second, kBoxes, &witness);
        if (guess.nearest.distance <= kTouch_mm) {
            return Touch{nearest, guess.witness};
        }
        if (guess.witness.of_first == witness.of_first && guess.witness.of_second == witness.of_second) {
            return std::nullopt;
        }
        witness = guess.witness;
    }
    return std::nullopt;
}

/// The part of a cell on one side of a touch, under the chord of the pair that touches.
TravelCell beside(const SearchedPair& pair, const RelativeMotion& motion, const Goal& goal, const TravelCell& cell,
                  const Touch& touch, bool before) {
    TravelCell part = cell;
    const double share = (touch.at.mm - cell.from.mm) / cell.width_mm();
    (before ? part.to : part.from) = touch.at;
    (before ? part.wanted.at_to : part.wanted.at_from) = cell.wanted.at(share);
    std::vector<TravelCell> fitted{part};
    fit_to(fitted, motion);
    part = fitted[0];
    const TriangleBounds bounds(pair.first_mesh, pair.second_mesh, motion);
    TriangleBounds::Measured measured{bounds.measure_on(touch.witness, touch.at), touch.witness};
    part.upper = bounds.upper(measured, part, !before);
    part.witness = measured.witness;
    lower_wanted(part, goal);
    return part;
}

} // namespace

void pinpoint_brief_contacts(const SearchedPair& pair, const Goal& goal, SweptPiece& piece, const Progress& progress) {
    std::vector<TravelCell> cells;
    cells.reserve(piece.cells.size());
    fit_to(piece.cells, piece.motion);
    std::size_t looked = 0;
    for (const TravelCell& cell : piece.cells) {
        std::optional<Touch> touch;
        if (uncertain(cell) && cell.width_mm() > 0 && cell.width_mm() <= 2 * goal.least_width_mm &&
            cell.upper.at_from > 0 && cell.upper.at_to > 0 && looked < kMostCells && !progress.cancelled()) {
            ++looked;
            touch = touch_within(pair, piece.motion, cell);
        }
        if (!touch) {
            cells.push_back(cell);
            continue;
        }
        if (touch->at.mm - cell.from.mm > kLeast_mm) {
            cells.push_back(beside(pair, piece.motion, goal, cell, *touch, true));
        } else {
            touch->at = cell.from;
        }
        if (cell.to.mm - touch->at.mm > kLeast_mm) {
            cells.push_back(beside(pair, piece.motion, goal, cell, *touch, false));
        } else {
            cells.back().to = cell.to;
        }
    }
    piece.cells = std::move(cells);
}

} // namespace evenclose
