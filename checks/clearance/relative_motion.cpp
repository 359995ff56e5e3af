#include "checks/clearance/relative_motion.hpp"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>
#include <tuple>

namespace evenclose {
namespace {

double mix(double low, double high, double share) { return low + share * (high - low); }

/// Farthest that a body reaches from its pivot, across the stroke and along it, at placement.
struct Reach {
    double level = 0, up = 0;
};

Reach reach_of(const Box& bounds, const SweptBody& body) {
    Reach reach;
    for (int corner = 0; corner < 8; ++corner) {
        const Vec3 at = body.placement.apply({(corner & 1) != 0 ? bounds.high_mm.x : bounds.low_mm.x,
                                              (corner & 2) != 0 ? bounds.high_mm.y : bounds.low_mm.y,
                                              (corner & 4) != 0 ? bounds.high_mm.z : bounds.low_mm.z}) -
                        body.ride->pivot_mm;
        reach.level = std::max(reach.level, std::hypot(at.x, at.y));
        reach.up = std::max(reach.up, std::abs(at.z));
    }
    return reach;
}

double steepest(const SlopeRange& range) {
    return std::hypot(std::max(std::abs(range.low.x), std::abs(range.high.x)),
                      std::max(std::abs(range.low.y), std::abs(range.high.y)));
}

bool moves(const SweptBody& body) { return body.ride != nullptr && !body.ride->fixed(); }

SlopeRange part_of(const SlopeRange& range, const ShareRange& shares) {
    return {slope_of(range, shares.low), slope_of(range, shares.high)};
}

BodyInFrame in_frame(const SweptBody& body, const Pose& to_frame, Travel from, Travel to, const ShareRange& shares,
                     bool stands) {
    BodyInFrame result;
    result.shares = shares;
    const Pose placed = to_frame * body.placement;
    result.turn = placed.rotation;
    result.shift_mm = placed.translation_mm;
    if (stands || !moves(body)) {
        return result;
    }
    result.ride = body.ride;
    const SlopeRange before = part_of(body.ride->slope_range(from), shares);
    const SlopeRange after = part_of(body.ride->slope_range(to), shares);
    result.tilts = steepest(before) > 0 || steepest(after) > 0;
    result.pivot_mm = to_frame.apply(body.ride->pivot_mm);
    if (!result.tilts) {
        return result;
    }
    result.reference = {0.25 * (before.low.x + before.high.x + after.low.x + after.high.x),
                        0.25 * (before.low.y + before.high.y + after.low.y + after.high.y)};
    const Mat3 tilted = rotation_of(result.reference);
    const Mat3 back = glm::transpose(to_frame.rotation);
    const Mat3 turned = to_frame.rotation * tilted * back; // in the frame
    result.turn = turned * placed.rotation;
    result.shift_mm = result.pivot_mm + turned * (placed.translation_mm - result.pivot_mm);
    // Central differences; the step leaves less than 1e-10 of the lever, which the rounding allowance covers.
    constexpr double kStep = 1e-5;
    const Slope& r = result.reference;
    const Mat3 in_x = (rotation_of({r.x + kStep, r.y}) - rotation_of({r.x - kStep, r.y})) / (2 * kStep);
    const Mat3 in_y = (rotation_of({r.x, r.y + kStep}) - rotation_of({r.x, r.y - kStep})) / (2 * kStep);
    result.per_x = to_frame.rotation * in_x * glm::transpose(tilted) * back;
    result.per_y = to_frame.rotation * in_y * glm::transpose(tilted) * back;
    return result;
}

/// The body's exact pose in the world, without lift, then in the frame.
Pose pose_in_frame(const SweptBody& body, const BodyInFrame& in_frame, const Pose& to_frame, Travel at, Slope slope) {
    if (in_frame.ride == nullptr || !in_frame.tilts) {
        return {in_frame.turn, in_frame.shift_mm};
    }
    const Mat3 turn = rotation_of(in_frame.allowed(at, slope));
    const Vec3& pivot = in_frame.ride->pivot_mm;
    return to_frame * (Pose{turn, pivot - turn * pivot} * body.placement);
}

} // namespace

Slope slope_of(const SlopeRange& range, SlopeShare share) {
    return {mix(range.low.x, range.high.x, share.x), mix(range.low.y, range.high.y, share.y)};
}

Slope BodyInFrame::allowed(Travel at, Slope slope) const {
    if (!tilts) {
        return {};
    }
    const SlopeRange range = ride->slope_range(at);
    return {std::clamp(slope.x, range.low.x, range.high.x), std::clamp(slope.y, range.low.y, range.high.y)};
}

Slope BodyInFrame::allowed_between(Travel a, Travel b, Slope slope) const {
    if (!tilts) {
        return slope;
    }
    const SlopeRange at_a = ride->slope_range(a);
    const SlopeRange at_b = ride->slope_range(b);
    const Slope low{std::max(at_a.low.x, at_b.low.x), std::max(at_a.low.y, at_b.low.y)};
    const Slope high{std::min(at_a.high.x, at_b.high.x), std::min(at_a.high.y, at_b.high.y)};
    return {low.x <= high.x ? std::clamp(slope.x, low.x, high.x) : slope.x,
            low.y <= high.y ? std::clamp(slope.y, low.y, high.y) : slope.y};
}

Slope BodyInFrame::middle(Travel at) const { return tilts ? ride->slope_range(at).middle() : Slope{}; }

SlopeRange BodyInFrame::off_reference(Travel at) const {
    if (!tilts) {
        return {};
    }
    const SlopeRange range = part_of(ride->slope_range(at), shares);
    return {{range.low.x - reference.x, range.low.y - reference.y},
            {range.high.x - reference.x, range.high.y - reference.y}};
}

double RelativeMotion::rise_mm(Travel at) const {
    return (second.ride == nullptr ? 0.0 : second.ride->lift_mm(at)) -
           (first.ride == nullptr ? 0.0 : first.ride->lift_mm(at));
}

double RelativeMotion::second_order(const Vec3& direction) const {
    const double along = glm::dot(direction, up);
    return second_order_level * std::sqrt(std::max(0.0, 1 - along * along)) + second_order_up * std::abs(along);
}

Pose RelativeMotion::pose_of_first(Travel at, Slope slope) const {
    return pose_in_frame(first_body, first, inverse(first_body.placement), at, slope);
}

Pose RelativeMotion::pose_of_second(Travel at, Slope slope) const {
    Pose pose = pose_in_frame(second_body, second, inverse(first_body.placement), at, slope);
    pose.translation_mm += rise_mm(at) * up;
    return pose;
}

double RelativeMotion::bend_mm(Travel a, Travel b, Slope of_first, Slope of_second) const {
    const auto bend = [&](const BodyInFrame& body, const SweptBody& swept, const Box& bounds, Slope slope) {
        if (!body.tilts) {
            return 0.0;
        }
        const Slope at_a = body.allowed(a, slope);
        const Slope at_b = body.allowed(b, slope);
        const double change = std::hypot(at_b.x - at_a.x, at_b.y - at_a.y);
        if (change == 0) {
            return 0.0;
        }
        const Reach reach = reach_of(bounds, swept);
        const double steep = std::max(std::hypot(at_a.x, at_a.y), std::hypot(at_b.x, at_b.y));
        // A chord is off its curve by an eighth of the second derivative.
        return 0.125 * change * change * (1 + 6 * steep * steep) * (1 + 3 * steep) * (reach.level + reach.up);
    };
    return bend(first, first_body, first_bounds, of_first) + bend(second, second_body, second_bounds, of_second);
}

RelativeMotion RelativeMotion::within(ShareRange of_first, ShareRange of_second) const {
    return relative_motion(first_body, first_bounds, second_body, second_bounds, from, to, of_first, of_second);
}

RelativeMotion relative_motion(const SweptBody& first, const Box& first_bounds, const SweptBody& second,
                               const Box& second_bounds, Travel from, Travel to, ShareRange of_first,
                               ShareRange of_second) {
    RelativeMotion motion;
    motion.from = from;
    motion.to = to;
    motion.first_body = first;
    motion.second_body = second;
    motion.first_bounds = first_bounds;
    motion.second_bounds = second_bounds;
    const bool together = first.ride == second.ride;
    const Pose to_frame = inverse(first.placement);
    motion.first = in_frame(first, to_frame, from, to, of_first, together);
    motion.second = in_frame(second, to_frame, from, to, of_second, together);
    if (!motion.first.tilts) { // the frame is its own
        motion.first.turn = Mat3{1.0};
        motion.first.shift_mm = Vec3{0.0};
    }
    motion.up = to_frame.rotation * Vec3{0, 0, 1};
    double size = 0;
    for (const auto& [body, swept, bounds] :
         {std::tuple{&motion.first, &first, &first_bounds}, std::tuple{&motion.second, &second, &second_bounds}}) {
        const Vec3 local = glm::max(glm::abs(bounds->low_mm), glm::abs(bounds->high_mm));
        size += glm::length(local) + glm::length(body->shift_mm) + glm::length(body->pivot_mm);
        if (body->ride != nullptr) {
            size += std::abs(body->ride->lift_mm(from)) + std::abs(body->ride->lift_mm(to));
        }
        if (!body->tilts) {
            continue;
        }
        const Reach reach = reach_of(*bounds, *swept);
        const double off = std::max(steepest(body->off_reference(from)), steepest(body->off_reference(to)));
        const double steep = std::max(steepest(body->ride->slope_range(from)), steepest(body->ride->slope_range(to)));
        const double factor = 0.5 * off * off * (1 + 6 * steep * steep);
        motion.second_order_level += factor * (reach.level + 3 * steep * reach.up);
        motion.second_order_up += factor * (reach.up + 3 * steep * reach.level);
        motion.rounding_mm += 1e-10 * off * (reach.level + reach.up); // of the differences
    }
    // Some hundred operations go into a bound, each good to 1.2e-16 of terms no larger than `size`.
    motion.rounding_mm += 1e-13 * size;
    return motion;
}

} // namespace evenclose
