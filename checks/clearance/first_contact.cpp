#include "checks/clearance/first_contact.hpp"

#include "checks/clearance/box_bound.hpp"
#include "checks/clearance/clearance_mesh.hpp"
#include "checks/clearance/contact_kind.hpp"
#include "checks/clearance/piercing.hpp"
#include "checks/clearance/ride_pieces.hpp"
#include "checks/clearance/triangle_bounds.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace evenclose {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr int kBoxAdvances = 3;       // for a pair of boxes: more is better spent on their halves
constexpr int kTriangleAdvances = 60; // far more than the tangents need
constexpr std::size_t kDefaultBudget = 60'000'000;
constexpr std::size_t kLooksForCancel = 4096;

/// One piece of travel over which neither body tilts.
class Piece {
public:
    Piece(const SweptBody& first, const SweptBody& second, Travel from, Travel to, double tightness_mm)
        : a_(first.mesh->hierarchy()), b_(second.mesh->hierarchy()),
          motion_(relative_motion(first, first.mesh->bounds(), second, second.mesh->bounds(), from, to)),
          triangles_(first.mesh->mesh(), second.mesh->mesh(), motion_), from_(from.mm), to_(to.mm),
          rise_from_(motion_.rise_mm(from)),
          rate_(to > from ? (motion_.rise_mm(to) - motion_.rise_mm(from)) / (to - from).mm : 0.0),
          tightness_(tightness_mm), shift_a_(motion_.first.turn * a_.origin() + motion_.first.shift_mm),
          shift_b_(motion_.second.turn * b_.origin() + motion_.second.shift_mm),
          b_as_is_(motion_.second.turn == Mat3{1.0}) {}

    /// False if cancelled.
    bool search(std::size_t budget, Progress& progress) {
        push(Hierarchy::kRoot, box_a(Hierarchy::kRoot), Hierarchy::kRoot, box_b(Hierarchy::kRoot), from_);
        std::size_t looked = 0;
        while (!open_.empty()) {
            std::pop_heap(open_.begin(), open_.end());
            const Open next = open_.back();
            if (next.earliest >= touches_by - tightness_) {
                unsettled = std::min(unsettled, next.earliest);
                return true;
            }
            open_.pop_back();
            if (++looked > budget) {
                unsettled = std::min(unsettled, next.earliest);
                return true;
            }
            if (looked % kLooksForCancel == 0 && progress.cancelled()) {
                return false;
            }
            const BoxNode& a = a_.node(next.a);
            const BoxNode& b = b_.node(next.b);
            if (a.leaf() && b.leaf()) {
                leaves(a, b, next.earliest);
            } else if (!a.leaf() && (b.leaf() || a.radius >= b.radius)) {
                const PlacedBox other = box_b(next.b);
                push(a.first, box_a(a.first), next.b, other, next.earliest);
                push(a.first + 1, box_a(a.first + 1), next.b, other, next.earliest);
            } else {
                const PlacedBox other = box_a(next.a);
                push(next.a, other, b.first, box_b(b.first), next.earliest);
                push(next.a, other, b.first + 1, box_b(b.first + 1), next.earliest);
            }
        }
        return true;
    }

    [[nodiscard]] NearestPoints where() const { return triangles_.measure_on(witness_, {touches_by}); }

    double touches_by = kNever;
    double unsettled = kNever; // contact is not certain to be absent from here on

private:
    struct Open {
        double earliest;
        std::uint32_t a, b;
        bool operator<(const Open& other) const { return earliest > other.earliest; }
    };

    [[nodiscard]] double rise(double travel) const { return rise_from_ + rate_ * (travel - from_); }

    [[nodiscard]] PlacedBox box_a(std::uint32_t node) const { // the frame is its own
        return placed_as_is(a_.node(node), shift_a_);
    }
    [[nodiscard]] PlacedBox box_b(std::uint32_t node) const {
        return b_as_is_ ? placed_as_is(b_.node(node), shift_b_) : placed(b_.node(node), motion_.second.turn, shift_b_);
    }

    void push(std::uint32_t ia, const PlacedBox& a, std::uint32_t ib, const PlacedBox& b, double from) {
        double at = from;
        for (int i = 0; i < kBoxAdvances; ++i) {
            const Vec3 offset = b.centre - a.centre + rise(at) * motion_.up;
            const Separation parted = separation(a, b, offset);
            const double ride = std::abs(rate_) * (to_ - from_);
            const double apart = parted.distance - axis_rounding(a, b, offset, ride) - motion_.rounding_mm;
            if (apart <= 0) {
                break;
            }
            const double closing = -glm::dot(parted.direction, motion_.up) * rate_;
            if (closing <= 0) {
                return; // parted until the end
            }
            const double step = apart / closing;
            at += step;
            if (at > to_ || at >= touches_by) {
                return;
            }
            if (step < 0.25 * tightness_) {
                break;
            }
        }
        open_.push_back({at, ia, ib});
        std::push_heap(open_.begin(), open_.end());
    }

    void leaves(const BoxNode& a, const BoxNode& b, double earliest) {
        for (std::uint32_t i = a.first; i < a.first + a.count; ++i) {
            const Triangle of_a = triangles_.of_first(a_.triangle(i));
            for (std::uint32_t j = b.first; j < b.first + b.count; ++j) {
                advance(a_.triangle(i), of_a, b_.triangle(j), triangles_.of_second(b_.triangle(j)), earliest);
            }
        }
    }

    /// From tangent to tangent: the distance is convex along a translation, so that none goes past the contact.
    void advance(std::uint32_t i, const Triangle& a, std::uint32_t j, const Triangle& b, double from) {
        double at = from;
        for (int step = 0; step < kTriangleAdvances; ++step) {
            const Vec3 lifted = rise(at) * motion_.up;
            const NearestPoints seen = nearest_points(a, {b[0] + lifted, b[1] + lifted, b[2] + lifted});
            if (seen.distance <= kTouch_mm) {
                if (at < touches_by) {
                    touches_by = at;
                    witness_ = {i, j, {}, {}};
                }
                return;
            }
            const Vec3& n = seen.direction;
            const auto along = [&n](const Triangle& t) {
                return std::pair{std::min({glm::dot(n, t[0]), glm::dot(n, t[1]), glm::dot(n, t[2])}),
                                 std::max({glm::dot(n, t[0]), glm::dot(n, t[1]), glm::dot(n, t[2])})};
            };
            const double apart = along(b).first + glm::dot(n, lifted) - along(a).second - motion_.rounding_mm;
            const double closing = -glm::dot(n, motion_.up) * rate_;
            if (apart > 0 && closing <= 0) {
                return; // parted until the end
            }
            if (!(apart > 0)) {
                break; // within roundings of each other, yet not in touch
            }
            at += apart / closing;
            if (at > to_ || at >= touches_by) {
                return;
            }
        }
        unsettled = std::min(unsettled, at);
    }

    const Hierarchy& a_;
    const Hierarchy& b_;
    RelativeMotion motion_;
    TriangleBounds triangles_;
    double from_, to_;
    double rise_from_, rate_;
    double tightness_;
    Vec3 shift_a_, shift_b_;
    bool b_as_is_;
    std::vector<Open> open_;
    Witness witness_;
};

bool tilts(const SweptBody& body, Travel from, Travel to) {
    if (body.ride == nullptr || body.ride->fixed()) {
        return false;
    }
    for (const Travel at : {from, to}) {
        const SlopeRange range = body.ride->slope_range(at);
        if (range.low.x != 0 || range.low.y != 0 || range.high.x != 0 || range.high.y != 0) {
            return true;
        }
    }
    return false;
}

/// With tilt: the whole sweep's answer, asked for contact only.
bool by_sweep(const SweptBody& first, const SweptBody& second, SweepRequest asked, Progress& progress,
              FirstContact& answer) {
    asked.interest_mm = 2 * asked.contact_tightness_mm;
    const Sweep seen = sweep(first, second, asked, progress);
    if (seen.contact == Contact::cancelled) {
        return false;
    }
    answer.tight = answer.tight && seen.tight;
    answer.clear_until = asked.to;
    if (!seen.contacts.empty()) {
        answer.contact = seen.contact == Contact::inside ? Contact::inside : Contact::touching;
        answer.touches_by = answer.clear_until = seen.contacts.front().from;
        answer.on_first_mm = seen.on_first_mm;
        answer.on_second_mm = seen.on_second_mm;
    }
    for (const ClearanceSpan& span : seen.spans) {
        if (span.lower_mm <= 0 && span.from < answer.clear_until) {
            answer.clear_until = span.from;
            break;
        }
    }
    return true;
}

} // namespace

FirstContact first_contact(const SweptBody& first, const SweptBody& second, const SweepRequest& request,
                           Progress& progress) {
    FirstContact answer;
    answer.clear_until = request.to;
    const auto posed = [&](Travel at) {
        const auto pose = [&](const SweptBody& body) {
            return body.ride == nullptr || body.ride == (&body == &first ? second : first).ride
                       ? body.placement
                       : pose_at(*body.ride, body.placement, at, {});
        };
        return PosedPair{*first.mesh, pose(first), *second.mesh, pose(second)};
    };
    const std::vector<Travel> stops = stops_of_rides(first, second, request.from, request.to);
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        SweepRequest piece_asked = request;
        piece_asked.from = stops[i];
        piece_asked.to = stops[i + 1];
        if (tilts(first, stops[i], stops[i + 1]) || tilts(second, stops[i], stops[i + 1])) {
            if (!by_sweep(first, second, piece_asked, progress, answer)) {
                answer.contact = Contact::cancelled;
                return answer;
            }
        } else {
            Piece piece(first, second, stops[i], stops[i + 1], request.contact_tightness_mm);
            if (!piece.search(request.budget == 0 ? kDefaultBudget : request.budget, progress)) {
                answer.contact = Contact::cancelled;
                return answer;
            }
            answer.clear_until = {std::min({stops[i + 1].mm, piece.touches_by, piece.unsettled})};
            if (piece.touches_by < kNever) {
                answer.contact = Contact::touching;
                answer.touches_by = {piece.touches_by};
                const NearestPoints where = piece.where();
                const double lift =
                    first.ride == nullptr || first.ride == second.ride ? 0.0 : first.ride->lift_mm(answer.touches_by);
                answer.on_first_mm = first.placement.apply(where.on_a) + Vec3{0, 0, lift};
                answer.on_second_mm = first.placement.apply(where.on_b) + Vec3{0, 0, lift};
            }
            const bool clear_at_first = stops[i] < answer.clear_until;
            if (clear_at_first && either_inside(posed(stops[i])) == Whereabouts::inside) {
                answer.contact = Contact::inside;
                answer.touches_by = answer.clear_until = stops[i];
            }
        }
        const double end = answer.contact == Contact::clear ? stops[i + 1].mm : answer.touches_by.mm;
        answer.tight = answer.tight && end - answer.clear_until.mm <= request.contact_tightness_mm;
        if (answer.contact != Contact::clear || !answer.tight) {
            return answer;
        }
    }
    return answer;
}

} // namespace evenclose
