#include "checks/clearance/conclusion.hpp"

#include "checks/clearance/clearance_mesh.hpp"
#include "checks/clearance/contact_kind.hpp"
#include "checks/clearance/piercing.hpp"
#include "checks/clearance/triangle_bounds.hpp"

#include <algorithm>
#include <cstddef>
#include <limits>

namespace evenclose {
namespace {

constexpr int kLooksAtContact = 5; // poses looked at in one stretch of contact to tell a foul from a touch

class Conclusion {
public:
    Conclusion(const SweptBody& first, const SweptBody& second, const SweepRequest& asked, const Goal& goal,
               const std::vector<SweptPiece>& pieces, bool budget_spent, const Progress& progress)
        : first_(first), second_(second), asked_(asked), goal_(goal), pieces_(pieces), budget_spent_(budget_spent),
          progress_(progress) {}

    Sweep run() {
        find_insides();
        answer_.tight = !budget_spent_;
        answer_.contact = any_inside_ ? Contact::inside : Contact::clear;
        answer_.least_lower_mm = std::numeric_limits<double>::infinity();
        answer_.least_upper_mm = std::numeric_limits<double>::infinity();
        const RelativeMotion* least_motion = nullptr;
        Witness least;
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            const SweptPiece& piece = pieces_[p];
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
                if (goal_.interest_mm > 0 && !zero && loose(cell, goal_)) {
                    answer_.tight = false;
                }
            }
        }
        for (const ClearanceSpan& span : answer_.spans) {
            answer_.least_lower_mm = std::min(answer_.least_lower_mm, span.lower_mm);
        }
        answer_.least_lower_mm = std::min(answer_.least_lower_mm, answer_.least_upper_mm);
        if (least_motion != nullptr) { // none where no cell has a bound above
            place_least(*least_motion, least);
        }
        tell_kind();
        return answer_;
    }

private:
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
                const bool brief =
                    pieces_[p].cells[j - 1].to.mm - pieces_[p].cells[i].from.mm <= asked_.contact_tightness_mm;
                for (std::size_t k = i; k < j && before && after; ++k) {
                    // Over a tilt envelope the passage is wider: in touch at some slopes, inside at others.
                    inside_[p][k] = brief ? inside_[p][i - 1] || inside_[p][j] : is_inside(p, k);
                }
                i = j;
            }
        }
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

    [[nodiscard]] Whereabouts whereabouts_in(std::size_t piece, std::size_t index) const {
        const TravelCell& cell = pieces_[piece].cells[index];
        return either_inside(posed(pieces_[piece].motion, {0.5 * (cell.from.mm + cell.to.mm)}));
    }

    /// At the middle of the slopes, of a cell in which something may touch.
    [[nodiscard]] bool is_inside(std::size_t piece, std::size_t index) const {
        const TravelCell& cell = pieces_[piece].cells[index];
        const PosedPair pair = posed(pieces_[piece].motion, {0.5 * (cell.from.mm + cell.to.mm)});
        return surface_contact(pair, nullptr) == Contact::clear && either_inside(pair) == Whereabouts::inside;
    }

    void ask_inside_at(std::size_t piece, std::size_t asked, std::size_t from, std::size_t to) {
        const Whereabouts where = whereabouts_in(piece, asked);
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

    void place_least(const RelativeMotion& motion, const Witness& witness) {
        const NearestPoints nearest =
            TriangleBounds(first_.mesh->mesh(), second_.mesh->mesh(), motion).measure_on(witness, answer_.least_at);
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
            const SweptPiece& piece = pieces_[stretch.piece];
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
            for (const SweptPiece& piece : pieces_) {
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
    const Goal& goal_;
    const std::vector<SweptPiece>& pieces_;
    bool budget_spent_;
    const Progress& progress_;
    std::vector<std::vector<bool>> inside_; // by piece and cell
    bool any_inside_ = false;
    Sweep answer_;
};

} // namespace

Sweep conclusion(const SweptBody& first, const SweptBody& second, const SweepRequest& asked, const Goal& goal,
                 const std::vector<SweptPiece>& pieces, bool budget_spent, const Progress& progress) {
    return Conclusion(first, second, asked, goal, pieces, budget_spent, progress).run();
}

} // namespace evenclose
