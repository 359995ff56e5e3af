#include "checks/clearance/triangle_bounds.hpp"

#include "checks/clearance/lasting_contact.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

Triangle corners_of(const TriangleMesh& mesh, std::uint32_t index, const Mat3& turn, const Vec3& shift) {
    const TriangleCorners& c = mesh.triangles[index];
    return {turn * mesh.vertices_mm[c[0]] + shift, turn * mesh.vertices_mm[c[1]] + shift,
            turn * mesh.vertices_mm[c[2]] + shift};
}

double least(double factor, double low, double high) { return std::min(factor * low, factor * high); }

/// How far a triangle comes down along `direction`, at the least over the slope range.
double lowest(const Triangle& t, const Vec3& direction, const BodyInFrame& body, const SlopeRange& off) {
    if (!body.tilts) {
        return std::min({glm::dot(direction, t[0]), glm::dot(direction, t[1]), glm::dot(direction, t[2])});
    }
    const Vec3 in_x = direction * body.per_x; // transposed: the row vector
    const Vec3 in_y = direction * body.per_y;
    double low = std::numeric_limits<double>::infinity();
    for (const Vec3& corner : t) {
        const Vec3 lever = corner - body.pivot_mm;
        low = std::min(low, glm::dot(direction, corner) + least(glm::dot(in_x, lever), off.low.x, off.high.x) +
                                least(glm::dot(in_y, lever), off.low.y, off.high.y));
    }
    return low;
}

/// The corner of the slope range that moves a point of the body the farthest along `direction`.
Slope farthest(const BodyInFrame& body, Travel at, const Vec3& point, const Vec3& direction) {
    const Vec3 lever = point - body.pivot_mm;
    const SlopeRange off = body.off_reference(at);
    return {body.reference.x + (glm::dot(direction, body.per_x * lever) > 0 ? off.high.x : off.low.x),
            body.reference.y + (glm::dot(direction, body.per_y * lever) > 0 ? off.high.y : off.low.y)};
}

bool same(Slope a, Slope b) { return a.x == b.x && a.y == b.y; }

} // namespace

Triangle TriangleBounds::of_first(std::uint32_t index) const {
    return corners_of(first_, index, motion_.first.turn, motion_.first.shift_mm);
}

Triangle TriangleBounds::of_second(std::uint32_t index) const {
    return corners_of(second_, index, motion_.second.turn, motion_.second.shift_mm);
}

NearestPoints TriangleBounds::measure_on(const Witness& witness, Travel at) const {
    const Pose first = motion_.pose_of_first(at, witness.slope_first);
    const Pose second = motion_.pose_of_second(at, witness.slope_second);
    return nearest_points(corners_of(first_, witness.of_first, first.rotation, first.translation_mm),
                          corners_of(second_, witness.of_second, second.rotation, second.translation_mm));
}

TriangleBounds::Measured TriangleBounds::measure(std::uint32_t i, const Triangle& a, std::uint32_t j, const Triangle& b,
                                                 Travel at, double rise_mm) const {
    const Vec3 rise = rise_mm * motion_.up;
    Measured best{nearest_points(a, {b[0] + rise, b[1] + rise, b[2] + rise}), {i, j, {}, {}}};
    if (!tilts_) {
        return best;
    }
    // The reference slope only tells where to look: at the corner of the slope box towards which the gap closes.
    Measured seen = best;
    best.nearest.distance = std::numeric_limits<double>::infinity();
    for (int round = 0; round < 2; ++round) {
        Witness witness{i, j, {}, {}};
        if (motion_.first.tilts) {
            witness.slope_first = farthest(motion_.first, at, seen.nearest.on_a, seen.nearest.direction);
        }
        if (motion_.second.tilts) {
            witness.slope_second = farthest(motion_.second, at, seen.nearest.on_b - rise, -seen.nearest.direction);
        }
        if (round > 0 && same(witness.slope_first, seen.witness.slope_first) &&
            same(witness.slope_second, seen.witness.slope_second)) {
            break;
        }
        seen = {measure_on(witness, at), witness};
        if (seen.nearest.distance < best.nearest.distance) {
            best = seen;
        }
    }
    return best;
}

Line TriangleBounds::lower(const Vec3& direction, const Triangle& a, const Triangle& b, const TravelCell& first_cell,
                           const TravelCell& last_cell) const {
    const double along = glm::dot(direction, motion_.up);
    const double off = motion_.rounding_mm + (tilts_ ? motion_.second_order(direction) : 0.0);
    const double from = lowest(b, direction, motion_.second, first_cell.second_from) +
                        lowest(a, -direction, motion_.first, first_cell.first_from);
    const double to = tilts_ ? lowest(b, direction, motion_.second, last_cell.second_to) +
                                   lowest(a, -direction, motion_.first, last_cell.first_to)
                             : from;
    return {from + along * first_cell.rise_from - off, to + along * last_cell.rise_to - off};
}

bool TriangleBounds::lasts(const Witness& w, Travel here, Travel there, double bend_mm) const {
    const auto corners_at = [&](Travel at) {
        const Pose first = motion_.pose_of_first(at, w.slope_first);
        const Pose second = motion_.pose_of_second(at, w.slope_second);
        return std::pair{corners_of(first_, w.of_first, first.rotation, first.translation_mm),
                         corners_of(second_, w.of_second, second.rotation, second.translation_mm)};
    };
    const auto [first_here, second_here] = corners_at(here);
    const auto [first_there, second_there] = corners_at(there);
    return contact_lasts(first_here, first_there, second_here, second_there, bend_mm);
}

Line TriangleBounds::upper(Measured& measured, const TravelCell& cell, bool measured_at_from) const {
    const auto told = [](double distance) { return distance <= kTouch_mm ? 0.0 : distance; };
    if (cell.rise_from == cell.rise_to && cell.from == cell.to) {
        return {told(measured.nearest.distance), told(measured.nearest.distance)};
    }
    Witness& w = measured.witness;
    const Travel here = measured_at_from ? cell.from : cell.to;
    const Travel there = measured_at_from ? cell.to : cell.from;
    if (tilts_) {
        const Witness before = w;
        w.slope_first = motion_.first.allowed_between(cell.from, cell.to, w.slope_first);
        w.slope_second = motion_.second.allowed_between(cell.from, cell.to, w.slope_second);
        if (!same(w.slope_first, before.slope_first) || !same(w.slope_second, before.slope_second)) {
            measured.nearest = measure_on(w, here);
        }
    }
    const double bend = tilts_ ? motion_.bend_mm(cell.from, cell.to, w.slope_first, w.slope_second) : 0.0;
    double other = 0;
    if (bend == 0) {
        other = measure_on(w, there).distance;
    } else {
        if (measured.nearest.distance <= kTouch_mm && lasts(w, here, there, bend)) {
            return {0, 0};
        }
        const Vec3 material_first = inverse(motion_.pose_of_first(here, w.slope_first)).apply(measured.nearest.on_a);
        const Vec3 material_second = inverse(motion_.pose_of_second(here, w.slope_second)).apply(measured.nearest.on_b);
        other = bend + glm::length(motion_.pose_of_second(there, w.slope_second).apply(material_second) -
                                   motion_.pose_of_first(there, w.slope_first).apply(material_first));
    }
    const double near_end = measured.nearest.distance + bend;
    return measured_at_from ? Line{told(near_end), told(other)} : Line{told(other), told(near_end)};
}

bool reach(const Line* lines, int count, const Line& wanted) {
    const auto reached = [&](double share) {
        double best = -std::numeric_limits<double>::infinity();
        for (int i = 0; i < count; ++i) {
            best = std::max(best, lines[i].at(share));
        }
        return best >= wanted.at(share) - 1e-12 * std::abs(best);
    };
    if (!reached(0) || !reached(1)) {
        return false;
    }
    for (int i = 0; i < count; ++i) {
        for (int j = i + 1; j < count; ++j) {
            const double before = lines[i].at_from - lines[j].at_from;
            const double after = lines[i].at_to - lines[j].at_to;
            if ((before < 0) != (after < 0) && !reached(before / (before - after))) {
                return false;
            }
        }
    }
    return true;
}

} // namespace evenclose
