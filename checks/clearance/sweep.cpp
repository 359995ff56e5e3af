#include "checks/clearance/sweep.hpp"

#include "checks/clearance/clearance_mesh.hpp"
#include "checks/clearance/contact_kind.hpp"
#include "checks/clearance/nearest_search.hpp"
#include "checks/clearance/pair_search.hpp"
#include "checks/clearance/piercing.hpp"
#include "checks/clearance/relative_motion.hpp"
#include "checks/clearance/soundness.hpp"
#include "checks/clearance/spans.hpp"
#include "checks/clearance/travel_cells.hpp"
#include "checks/clearance/triangle_bounds.hpp"

#include <glm/geometric.hpp>
#include <tbb/parallel_for.h>
#include <tbb/parallel_invoke.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

constexpr std::size_t kDefaultBudget = 60'000'000; // pairs looked at: a minute or so
constexpr std::size_t kCoarseGuesses = 17;
constexpr std::size_t kBoxesForGuess = 1500;
constexpr std::size_t kBoxesForContact = 50'000; // some milliseconds, where surfaces cross along a line only
constexpr std::size_t kMostCells = 4096;         // to start with; they are cut further where it is needed
constexpr int kMostPolishings = 8;
constexpr int kLooksAtContact = 5; // poses looked at in one stretch of contact to tell a foul from a touch

bool moves(const SweptBody& body) { return body.ride != nullptr && !body.ride->fixed(); }

/// Everything of one call, first and second in the order that suits the search.
class Sweeper {
public:
    Sweeper(const SweptBody& first, const SweptBody& second, const SweepRequest& asked, Progress& progress)
        : first_(first), second_(second), asked_(asked),
          progress_(progress), pair_{first.mesh->mesh(), first.mesh->hierarchy(), second.mesh->mesh(),
                                     second.mesh->hierarchy()},
          budget_(asked.budget == 0 ? kDefaultBudget : asked.budget) {
        goal_.interest_mm = asked.interest_mm;
        goal_.slack_mm = 0.5 * asked.tightness_mm;
        goal_.least_width_mm = 0.25 * asked.contact_tightness_mm;
    }

    Sweep run() {
        const std::vector<Travel> stops = stops_of_rides();
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const double share = 0.95 / static_cast<double>(stops.size() - 1);
            if (!sweep_piece(stops[i], stops[i + 1], share * static_cast<double>(i), share)) {
                Sweep cancelled;
                cancelled.contact = Contact::cancelled;
                return cancelled;
            }
        }
        conclude();
        if (progress_.cancelled()) {
            Sweep cancelled;
            cancelled.contact = Contact::cancelled;
            return cancelled;
        }
        progress_.tell(1.0);
        return answer_;
    }

private:
    struct Piece {
        RelativeMotion motion; // over the whole envelope
        std::vector<TravelCell> cells;
    };

    [[nodiscard]] std::vector<Travel> stops_of_rides() const {
        std::vector<Travel> stops{asked_.from, asked_.to};
        for (const SweptBody* body : {&first_, &second_}) {
            if (moves(*body)) {
                for (const RideKnot& knot : body->ride->knots) {
                    if (asked_.from < knot.at && knot.at < asked_.to) {
                        stops.push_back(knot.at);
                    }
                }
            }
        }
        std::sort(stops.begin(), stops.end());
        if (stops.size() > 2) {
            stops.erase(std::unique(stops.begin(), stops.end()), stops.end());
            if (stops.size() == 1) {
                stops.push_back(stops.front());
            }
        }
        return stops;
    }

    /// The whole envelope, or parts of it where the second order of tilting would cost too much tightness.
    [[nodiscard]] std::vector<RelativeMotion> parts_of(const RelativeMotion& whole) const {
        int parts = 1;
        while (parts < 8 && std::max(whole.second_order_up, 0.5 * whole.second_order_level) / (parts * parts) >
                                0.5 * goal_.slack_mm) {
            parts *= 2;
        }
        if (parts == 1) {
            return {whole};
        }
        const auto shares_of = [parts](const BodyInFrame& body) {
            std::vector<ShareRange> shares;
            const int per_side = body.tilts ? parts : 1;
            for (int x = 0; x < per_side; ++x) {
                for (int y = 0; y < per_side; ++y) {
                    const double n = per_side;
                    shares.push_back({{x / n, y / n}, {(x + 1) / n, (y + 1) / n}});
                }
            }
            return shares;
        };
        std::vector<RelativeMotion> motions;
        for (const ShareRange& of_first : shares_of(whole.first)) {
            for (const ShareRange& of_second : shares_of(whole.second)) {
                motions.push_back(whole.within(of_first, of_second));
            }
        }
        return motions;
    }

    [[nodiscard]] static std::vector<Slope> corners_and_middle(const BodyInFrame& body, Travel at) {
        if (!body.tilts) {
            return {{}};
        }
        const SlopeRange range = body.ride->slope_range(at);
        return {range.middle(), range.low, {range.low.x, range.high.y}, {range.high.x, range.low.y}, range.high};
    }

    [[nodiscard]] Guess best_guess(const RelativeMotion& motion, Travel at) const {
        Guess best;
        best.nearest.distance = std::numeric_limits<double>::infinity();
        for (const Slope& of_first : corners_and_middle(motion.first, at)) {
            for (const Slope& of_second : corners_and_middle(motion.second, at)) {
                const Guess guess = nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second,
                                                  motion, at, of_first, of_second, kBoxesForGuess,
                                                  std::isfinite(best.nearest.distance) ? &best.witness : nullptr);
                if (guess.nearest.distance < best.nearest.distance) {
                    best = guess;
                }
            }
        }
        return best;
    }

    /// Cells as wide as chord and tangent allow: over a rise h at a distance d they part by about h^2 / 8 d.
    [[nodiscard]] std::vector<TravelCell> first_cells(const RelativeMotion& motion) const {
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
    [[nodiscard]] std::vector<TravelCell> with_contact_followed(const RelativeMotion& motion,
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
    [[nodiscard]] Guess guess_at(const RelativeMotion& motion, Travel at, const Witness& start) const {
        const Guess near = nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion, at,
                                         start.slope_first, start.slope_second, kBoxesForGuess / 4, &start);
        if (near.nearest.distance <= kTouch_mm) {
            return near;
        }
        const Guess touching = contact_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion, at,
                                             start.slope_first, start.slope_second, kBoxesForContact);
        return touching.nearest.distance <= kTouch_mm ? touching : near;
    }

    void follow(const RelativeMotion& motion, TravelCell rest, std::vector<TravelCell>& followed) const {
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
    [[nodiscard]] Travel last_in_touch(const RelativeMotion& motion, const Witness& witness, Travel touching,
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

    static TravelCell part_of_cell(const RelativeMotion& motion, const TravelCell& whole, Travel from, Travel to) {
        std::vector<TravelCell> part(1);
        part[0].from = from;
        part[0].to = to;
        part[0].witness = whole.witness;
        fit_to(part, motion);
        return part[0];
    }

    void offer(const RelativeMotion& motion, TravelCell& cell, const Witness& witness, bool at_from) const {
        const TriangleBounds bounds(pair_.first_mesh, pair_.second_mesh, motion);
        TriangleBounds::Measured measured{bounds.measure_on(witness, at_from ? cell.from : cell.to), witness};
        const Line chord = bounds.upper(measured, cell, at_from);
        improve(cell, chord, measured.witness, goal_, 0);
    }

    /// First upper bounds: a guess in the middle of each cell, starting from the coarse one beside it.
    void fill(const RelativeMotion& motion, std::vector<TravelCell>& cells, const std::vector<Guess>& guesses) const {
        fit_to(cells, motion);
        tbb::parallel_for(std::size_t{0}, cells.size(), [&](std::size_t i) {
            TravelCell& cell = cells[i];
            const Witness& start = guesses[std::min(i, guesses.size() - 1)].witness;
            const Travel middle{0.5 * (cell.from.mm + cell.to.mm)};
            const Guess guess =
                nearest_guess(pair_.first_mesh, pair_.first, pair_.second_mesh, pair_.second, motion, middle,
                              start.slope_first, start.slope_second, kBoxesForGuess / 4, &start);
            for (const Witness& witness : {guess.witness, start}) {
                offer(motion, cell, witness, true);
            }
        });
    }

    bool search(const std::vector<RelativeMotion>& motions, std::vector<TravelCell>& cells, std::uint32_t from,
                std::uint32_t to, double told, double share) {
        for (std::size_t i = 0; i < motions.size(); ++i) {
            fit_to(cells, motions[i]);
            const std::size_t cells_before = cells.size();
            const double part = share / static_cast<double>(motions.size());
            const std::size_t left = budget_ - std::min(budget_, counts_.boxes + counts_.triangles);
            if (!search_pair(
                    pair_, motions[i], goal_, left, cells, from, to, counts_,
                    {&progress_, told + part * static_cast<double>(i), told + part * static_cast<double>(i + 1)})) {
                return false;
            }
            to += static_cast<std::uint32_t>(cells.size() - cells_before); // cuts fall between from and to only
        }
        return true;
    }

    bool sweep_piece(Travel from, Travel to, double told, double share) {
        Piece piece{relative_motion(first_, first_.mesh->bounds(), second_, second_.mesh->bounds(), from, to), {}};
        if (progress_.cancelled()) {
            return false;
        }
        piece.cells = first_cells(piece.motion);
        const std::vector<RelativeMotion> motions = parts_of(piece.motion);
        if (!search(motions, piece.cells, 0, static_cast<std::uint32_t>(piece.cells.size()), told, share)) {
            return false;
        }
        for (int round = 0; round < kMostPolishings && !counts_.budget_spent; ++round) {
            bool polished = false;
            for (std::uint32_t i = 0; i < piece.cells.size(); ++i) {
                if (loose(piece.cells[i])) {
                    polished = true;
                    halve(piece.motion, piece.cells, i);
                    const std::size_t before = piece.cells.size();
                    if (!search(motions, piece.cells, i, i + 2, told + share, 0)) {
                        return false;
                    }
                    i += 1 + static_cast<std::uint32_t>(piece.cells.size() - before);
                }
            }
            if (!polished) {
                break;
            }
        }
        pieces_.push_back(std::move(piece));
        return true;
    }

    [[nodiscard]] LinearBounds bounds_of_cell(const TravelCell& cell) const {
        const Line lower = certified_lower(cell);
        return {cell.from,
                cell.to,
                {{lower.at_from, lower.at_to}, {lower.at_from, lower.at_to}},
                {{cell.upper.at_from, cell.upper.at_to}, {cell.upper.at_from, cell.upper.at_to}}};
    }

    /// Chords taken one after the other can leave a cell wider than asked.
    [[nodiscard]] bool loose(const TravelCell& cell) const {
        if (cell.in_contact() || std::min(cell.upper.at_from, cell.upper.at_to) < goal_.slack_mm ||
            cell.width_mm() < 1e-4) {
            return false;
        }
        const Extremes extremes = extremes_of(bounds_of_cell(cell), 0, 1);
        return extremes.lower < asked_.interest_mm && extremes.gap > 0.8 * asked_.tightness_mm;
    }

    void halve(const RelativeMotion& motion, std::vector<TravelCell>& cells, std::uint32_t index) const {
        const TravelCell& cell = cells[index];
        std::vector<TravelCell> halves(2);
        halves[0].from = cell.from;
        halves[0].to = halves[1].from = {0.5 * (cell.from.mm + cell.to.mm)};
        halves[1].to = cell.to;
        Guess known;
        known.witness = cell.witness;
        fill(motion, halves, {known});
        cells[index] = halves[0];
        cells.insert(cells.begin() + index + 1, halves[1]);
    }

    // What it comes to ----------------------------------------------------------------------------------------------

    [[nodiscard]] PosedPair posed(const RelativeMotion& motion, const Witness& witness, Travel at) const {
        return {*first_.mesh, motion.pose_of_first(at, witness.slope_first), *second_.mesh,
                motion.pose_of_second(at, witness.slope_second)};
    }

    /// The middle of the slopes at a travel.
    [[nodiscard]] PosedPair posed(const RelativeMotion& motion, Travel at) const {
        return posed(motion, Witness{}, at);
    }

    struct Stretch {
        std::size_t piece = 0, from = 0, to = 0; // cells of one piece
    };

    /// Stretches of cells that are (or are not) in contact, within a piece.
    [[nodiscard]] std::vector<Stretch> stretches(bool in_contact) const {
        std::vector<Stretch> result;
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            const std::vector<TravelCell>& cells = pieces_[p].cells;
            for (std::size_t i = 0; i < cells.size(); ++i) {
                if (cells[i].in_contact() != in_contact) {
                    continue;
                }
                if (!result.empty() && result.back().piece == p && result.back().to == i) {
                    result.back().to = i + 1;
                } else {
                    result.push_back({p, i, i + 1});
                }
            }
        }
        return result;
    }

    void find_insides() {
        inside_.assign(pieces_.size(), {});
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            inside_[p].assign(pieces_[p].cells.size(), false);
        }
        for (const Stretch& stretch : stretches(false)) {
            const std::vector<TravelCell>& cells = pieces_[stretch.piece].cells;
            // Slivers that could not be told from contact part the stretch as contact itself does.
            std::size_t from = stretch.from;
            for (std::size_t i = stretch.from; i <= stretch.to; ++i) {
                if (i < stretch.to && !uncertain(cells[i])) {
                    continue;
                }
                if (i > from) {
                    ask_inside(stretch.piece, from, i);
                }
                from = i + 1;
            }
        }
        // A sliver between two stretches of foul, one of them inside, belongs to the passage from one to the other.
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            const auto foul = [&](std::size_t i) { return pieces_[p].cells[i].in_contact() || inside_[p][i]; };
            for (std::size_t i = 0; i < pieces_[p].cells.size(); ++i) {
                if (foul(i) || !uncertain(pieces_[p].cells[i])) {
                    continue;
                }
                std::size_t j = i;
                while (j < pieces_[p].cells.size() && !foul(j) && uncertain(pieces_[p].cells[j])) {
                    ++j;
                }
                const bool before = i > 0 && foul(i - 1);
                const bool after = j < pieces_[p].cells.size() && foul(j);
                if (before && after && (inside_[p][i - 1] || inside_[p][j]) &&
                    pieces_[p].cells[j - 1].to.mm - pieces_[p].cells[i].from.mm <= asked_.contact_tightness_mm) {
                    for (std::size_t k = i; k < j; ++k) {
                        inside_[p][k] = true;
                    }
                }
                i = j;
            }
        }
    }

    [[nodiscard]] bool uncertain(const TravelCell& cell) const {
        const Line lower = certified_lower(cell);
        return !cell.in_contact() && cell.given_up_mm <= 0 && std::max(lower.at_from, lower.at_to) <= 0;
    }

    /// Needs: nothing touches in these cells, so that who is inside whom cannot change: one travel tells for all of them.
    /// With an open mesh one can still pass in or out through the hole; then every cell is asked.
    void ask_inside(std::size_t piece, std::size_t from, std::size_t to) {
        const std::vector<TravelCell>& cells = pieces_[piece].cells;
        if (!(first_.mesh->closed() && second_.mesh->closed())) {
            for (std::size_t i = from; i < to; ++i) {
                ask_inside_at(piece, i, i, i + 1);
            }
            return;
        }
        std::size_t widest = from; // a sliver beside a contact may hold one that was not certain
        for (std::size_t i = from; i < to; ++i) {
            widest = cells[i].width_mm() > cells[widest].width_mm() ? i : widest;
        }
        ask_inside_at(piece, widest, from, to);
    }

    void ask_inside_at(std::size_t piece, std::size_t asked, std::size_t from, std::size_t to) {
        const TravelCell& cell = pieces_[piece].cells[asked];
        const Travel at{0.5 * (cell.from.mm + cell.to.mm)};
        const Whereabouts where = either_inside(posed(pieces_[piece].motion, at));
        if (where == Whereabouts::inside) {
            any_inside_ = true;
            std::fill(inside_[piece].begin() + static_cast<std::ptrdiff_t>(from),
                      inside_[piece].begin() + static_cast<std::ptrdiff_t>(to), true);
        } else if (where == Whereabouts::cannot_tell) {
            answer_.why_not = "one mesh is open, so whether the other body is inside it cannot be told";
        }
    }

    void look_at_contact(const RelativeMotion& motion, const Witness& witness, Travel at) {
        if (answer_.contact == Contact::foul || progress_.cancelled()) {
            return;
        }
        const PosedPair pair = posed(motion, witness, at);
        Contact kind = surface_contact(pair, nullptr);
        if (kind == Contact::touching && either_inside(pair) == Whereabouts::inside) {
            kind = Contact::inside;
        }
        if (kind == Contact::clear) {
            kind = Contact::touching; // at the very end of the contact, a rounding away from it
        }
        if (kind == Contact::foul || answer_.contact != Contact::inside) {
            answer_.contact = kind == Contact::touching && answer_.contact == Contact::inside ? Contact::inside : kind;
        }
    }

    void add_contact(Travel from, Travel to) {
        // A gap shorter than the ends are told to may be none: grazing faces flicker in and out of contact by roundings.
        if (!answer_.contacts.empty() && (from - answer_.contacts.back().to).mm <= asked_.contact_tightness_mm) {
            answer_.contacts.back().to = std::max(answer_.contacts.back().to, to);
        } else {
            answer_.contacts.push_back({from, to});
        }
    }

    void conclude() {
        find_insides();
        answer_.tight = !counts_.budget_spent;
        answer_.contact = any_inside_ ? Contact::inside : Contact::clear;
        answer_.least_lower_mm = std::numeric_limits<double>::infinity();
        answer_.least_upper_mm = std::numeric_limits<double>::infinity();
        const RelativeMotion* least_motion = nullptr;
        Witness least;
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            const Piece& piece = pieces_[p];
            for (std::size_t i = 0; i < piece.cells.size(); ++i) {
                const TravelCell& cell = piece.cells[i];
                LinearBounds bounds = bounds_of_cell(cell);
                const bool zero = cell.in_contact() || inside_[p][i];
                if (zero) {
                    bounds.lower[0] = bounds.lower[1] = bounds.upper[0] = bounds.upper[1] = {0, 0};
                    add_contact(cell.from, cell.to);
                } else if (cell.upper.at_from == 0) {
                    add_contact(cell.from, cell.from);
                } else if (cell.upper.at_to == 0) {
                    add_contact(cell.to, cell.to);
                }
                append_spans(answer_.spans, bounds, asked_.interest_mm, asked_.tightness_mm);
                for (const bool at_from : {true, false}) {
                    const double upper = zero ? 0 : at_from ? cell.upper.at_from : cell.upper.at_to;
                    if (upper < answer_.least_upper_mm) {
                        answer_.least_upper_mm = upper;
                        answer_.least_at = at_from ? cell.from : cell.to;
                        least_motion = &piece.motion;
                        least = cell.witness;
                    }
                }
                if (goal_.interest_mm > 0 && !zero && loose(cell)) {
                    answer_.tight = false;
                }
            }
        }
        for (const ClearanceSpan& span : answer_.spans) {
            answer_.least_lower_mm = std::min(answer_.least_lower_mm, span.lower_mm);
        }
        answer_.least_lower_mm = std::min(answer_.least_lower_mm, answer_.least_upper_mm);
        place_least(*least_motion, least);
        tell_kind();
    }

    void place_least(const RelativeMotion& motion, const Witness& witness) {
        const NearestPoints nearest =
            TriangleBounds(pair_.first_mesh, pair_.second_mesh, motion).measure_on(witness, answer_.least_at);
        const double lift = motion.first.ride == nullptr ? 0 : motion.first.ride->lift_mm(answer_.least_at);
        const auto to_world = [&](const Vec3& point) { return first_.placement.apply(point) + Vec3{0, 0, lift}; };
        answer_.on_first_mm = to_world(nearest.on_a);
        answer_.on_second_mm = to_world(nearest.on_b);
        const BodyInFrame& tilting = motion.second.tilts ? motion.second : motion.first;
        if (tilting.tilts) {
            answer_.least_slope =
                tilting.allowed(answer_.least_at, motion.second.tilts ? witness.slope_second : witness.slope_first);
        }
    }

    void tell_kind() {
        for (const Stretch& stretch : stretches(true)) {
            const Piece& piece = pieces_[stretch.piece];
            const std::size_t count = stretch.to - stretch.from;
            for (int look = 0; look < kLooksAtContact; ++look) {
                // Deepest first, as a rule: the middle, then outward.
                const double places[kLooksAtContact] = {0.5, 0.25, 0.75, 0.0, 0.999};
                const auto index = stretch.from + static_cast<std::size_t>(places[look] * static_cast<double>(count));
                const TravelCell& cell = piece.cells[index];
                look_at_contact(piece.motion, cell.witness, {0.5 * (cell.from.mm + cell.to.mm)});
            }
        }
        if (answer_.contact == Contact::clear && !answer_.contacts.empty()) {
            for (const Piece& piece : pieces_) {
                for (const TravelCell& cell : piece.cells) {
                    if (!cell.in_contact() && cell.upper.at_from == 0) {
                        look_at_contact(piece.motion, cell.witness, cell.from);
                    }
                    if (!cell.in_contact() && cell.upper.at_to == 0) {
                        look_at_contact(piece.motion, cell.witness, cell.to);
                    }
                }
            }
        }
    }

    const SweptBody& first_;
    const SweptBody& second_;
    const SweepRequest& asked_;
    Progress& progress_;
    SearchedPair pair_;
    std::size_t budget_;
    Goal goal_;
    SearchCounts counts_;
    std::vector<Piece> pieces_;
    std::vector<std::vector<bool>> inside_; // by piece and cell
    bool any_inside_ = false;
    Sweep answer_;
};

} // namespace

ClearanceMesh::ClearanceMesh(SharedMesh source)
    : mesh_(std::move(source)), bounds_(bounds_of(*mesh_)), hierarchy_(*mesh_) {
    tbb::parallel_invoke([this] { shells_ = corner_of_each_shell(*mesh_); }, [this] { closed_ = is_closed(*mesh_); });
}

SharedClearanceMesh prepare(SharedMesh mesh) {
    require_sound_input(*mesh);
    return std::make_shared<const ClearanceMesh>(std::move(mesh));
}

Sweep sweep(const SweptBody& first, const SweptBody& second, const SweepRequest& request, Progress& progress) {
    // The frame is the first body's: the search is cheapest when it is not the one that tilts.
    const bool swap = moves(first) && first.ride->tilts() && !(moves(second) && second.ride->tilts());
    if (!swap) {
        return Sweeper(first, second, request, progress).run();
    }
    Sweep answer = Sweeper(second, first, request, progress).run();
    std::swap(answer.on_first_mm, answer.on_second_mm);
    return answer;
}

PoseClearance clearance_at(const SweptBody& first, const SweptBody& second, Travel at, Slope slope, double interest_mm,
                           double tightness_mm) {
    const bool together = first.ride == second.ride;
    const auto standing = [&](const SweptBody& body) {
        return SweptBody{body.mesh,
                         together || !moves(body) ? body.placement : pose_at(*body.ride, body.placement, at, slope),
                         nullptr};
    };
    SweepRequest request;
    request.from = request.to = at;
    request.interest_mm = interest_mm;
    request.tightness_mm = 2 * tightness_mm; // one pose: nothing is spent on change along the travel
    Progress progress;
    const SweptBody a = standing(first);
    const SweptBody b = standing(second);
    const Sweep seen = Sweeper(a, b, request, progress).run();
    return {seen.contact, seen.least_upper_mm, seen.on_first_mm, seen.on_second_mm};
}

} // namespace evenclose
