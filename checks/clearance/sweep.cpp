#include "checks/clearance/sweep.hpp"

#include "checks/clearance/brief_contact.hpp"
#include "checks/clearance/clearance_mesh.hpp"
#include "checks/clearance/conclusion.hpp"
#include "checks/clearance/contact_kind.hpp"
#include "checks/clearance/first_cells.hpp"
#include "checks/clearance/pair_search.hpp"
#include "checks/clearance/relative_motion.hpp"
#include "checks/clearance/ride_pieces.hpp"
#include "checks/clearance/soundness.hpp"
#include "checks/clearance/swept_piece.hpp"
#include "scene/kept_for.hpp"

#include <tbb/parallel_invoke.h>

#include <algorithm>
#include <cmath>
#include <mutex>

namespace evenclose {
namespace {

constexpr std::size_t kDefaultBudget = 60'000'000; // pairs looked at: a minute or so
constexpr std::size_t kBoxesForFar = 600;          // pairs looked at before a pair is taken to come near
constexpr int kMostPolishings = 8;

bool moves(const SweptBody& body) { return body.ride != nullptr && !body.ride->fixed(); }

/// Where a body stands at a pose, against another that may ride along.
Pose placed_at(const SweptBody& body, const SweptBody& other, Travel at, Slope slope) {
    return body.ride == other.ride || !moves(body) ? body.placement : pose_at(*body.ride, body.placement, at, slope);
}

/// Everything of one call, first and second in the order that suits the search.
class Sweeper {
public:
    Sweeper(const SweptBody& first, const SweptBody& second, const SweepRequest& asked, Progress& progress)
        : first_(first), second_(second), asked_(asked),
          progress_(progress), pair_{first.mesh->mesh(), first.mesh->hierarchy(), second.mesh->mesh(),
                                     second.mesh->hierarchy()},
          budget_(asked.budget == 0 ? kDefaultBudget : asked.budget), goal_{asked.interest_mm, 0.5 * asked.tightness_mm,
                                                                            0.25 * asked.contact_tightness_mm},
          first_cells_(pair_, goal_) {}

    Sweep run() {
        const std::vector<Travel> stops = stops_of_rides(first_, second_, asked_.from, asked_.to);
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const double share = 0.95 / static_cast<double>(stops.size() - 1);
            if (!sweep_piece(stops[i], stops[i + 1], share * static_cast<double>(i), share)) {
                Sweep cancelled;
                cancelled.contact = Contact::cancelled;
                return cancelled;
            }
        }
        Sweep answer = conclusion(first_, second_, asked_, goal_, pieces_, counts_.budget_spent, progress_);
        if (progress_.cancelled()) {
            Sweep cancelled;
            cancelled.contact = Contact::cancelled;
            return cancelled;
        }
        progress_.tell(1.0);
        return answer;
    }

private:
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

    /// Most pairs of a press never come near each other: a few boxes tell, and careful guesses would be a waste. If so, the
    /// piece is done.
    bool far_all_along(SweptPiece& piece) const {
        piece.cells = {first_cells_.one_cell(piece.motion)};
        if (piece.cells[0].wanted.at_from < goal_.interest_mm || piece.cells[0].wanted.at_to < goal_.interest_mm) {
            return false;
        }
        SearchCounts counts;
        return search_pair(pair_, piece.motion, goal_, kBoxesForFar, piece.cells, 0, 1, counts, {}) &&
               !counts.budget_spent && piece.cells.size() == 1 && std::isinf(piece.cells[0].given_up_mm);
    }

    bool sweep_piece(Travel from, Travel to, double told, double share) {
        SweptPiece piece{relative_motion(first_, first_.mesh->bounds(), second_, second_.mesh->bounds(), from, to), {}};
        if (progress_.cancelled()) {
            return false;
        }
        if (far_all_along(piece)) {
            pieces_.push_back(std::move(piece));
            return !progress_.cancelled();
        }
        piece.cells = first_cells_.cells_of(piece.motion);
        const std::vector<RelativeMotion> motions = parts_of(piece.motion);
        if (!search(motions, piece.cells, 0, static_cast<std::uint32_t>(piece.cells.size()), told, share)) {
            return false;
        }
        for (int round = 0; round < kMostPolishings && !counts_.budget_spent; ++round) {
            bool polished = false;
            for (std::uint32_t i = 0; i < piece.cells.size(); ++i) {
                if (loose(piece.cells[i], goal_)) {
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
        pinpoint_brief_contacts(pair_, goal_, piece, progress_);
        pieces_.push_back(std::move(piece));
        return true;
    }

    void halve(const RelativeMotion& motion, std::vector<TravelCell>& cells, std::uint32_t index) const {
        const TravelCell& cell = cells[index];
        std::vector<TravelCell> halves(2);
        halves[0].from = cell.from;
        halves[0].to = halves[1].from = {0.5 * (cell.from.mm + cell.to.mm)};
        halves[1].to = cell.to;
        Guess known;
        known.witness = cell.witness;
        first_cells_.fill(motion, halves, {known});
        cells[index] = halves[0];
        cells.insert(cells.begin() + index + 1, halves[1]);
    }

    const SweptBody& first_;
    const SweptBody& second_;
    const SweepRequest& asked_;
    Progress& progress_;
    SearchedPair pair_;
    std::size_t budget_;
    Goal goal_;
    FirstCells first_cells_;
    SearchCounts counts_;
    std::vector<SweptPiece> pieces_;
};

} // namespace

ClearanceMesh::ClearanceMesh(SharedMesh source)
    : mesh_(std::move(source)), bounds_(bounds_of(*mesh_)), hierarchy_(*mesh_) {
    tbb::parallel_invoke([this] { shells_ = ends_of_each_shell(*mesh_); }, [this] { closed_ = is_closed(*mesh_); },
                         [this] { inside_out_ = signed_volume_mm3(*mesh_) < 0; });
}

SharedClearanceMesh prepare(const SharedMesh& mesh) {
    static std::mutex guard;
    static KeptFor<TriangleMesh, std::weak_ptr<const ClearanceMesh>> kept;
    {
        const std::scoped_lock lock(guard);
        kept.forget_gone();
        if (auto* found = kept.find(mesh)) {
            if (SharedClearanceMesh before = found->lock()) {
                return before;
            }
        }
    }
    // Made outside the lock: another thread may make the same one meanwhile; either will do.
    require_sound_input(*mesh);
    auto made = std::make_shared<const ClearanceMesh>(mesh);
    const std::scoped_lock lock(guard);
    kept.keep(mesh, made);
    return made;
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
    SweepRequest request;
    request.from = request.to = at;
    request.interest_mm = interest_mm;
    request.tightness_mm = 2 * tightness_mm; // one pose: nothing is spent on change along the travel
    Progress progress;
    const SweptBody a{first.mesh, placed_at(first, second, at, slope), nullptr};
    const SweptBody b{second.mesh, placed_at(second, first, at, slope), nullptr};
    const Sweep seen = Sweeper(a, b, request, progress).run();
    return {seen.contact, seen.least_upper_mm, seen.on_first_mm, seen.on_second_mm};
}

std::vector<TrianglePair> triangles_in_contact(const SweptBody& first, const SweptBody& second, Travel at,
                                               Slope slope) {
    std::vector<TrianglePair> meeting;
    (void)surface_contact(
        {*first.mesh, placed_at(first, second, at, slope), *second.mesh, placed_at(second, first, at, slope)},
        &meeting);
    std::sort(meeting.begin(), meeting.end());
    return meeting;
}

} // namespace evenclose
