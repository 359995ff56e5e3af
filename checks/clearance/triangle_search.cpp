#include "checks/clearance/triangle_search.hpp"

#include "checks/clearance/piercing.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kLeastCut_mm = 1e-5; // travel: cells are not cut finer, contact or not
// Parts of the slope box looked at for one pair of triangles in one cell. A jack's envelope (a milliradian on half a metre,
// so half a millimetre, cut to 0.01 in two axes) needs some 2000 at worst; without an end to it a wild envelope would
// never be cancelled, nor done.
constexpr int kMostSlopeParts = 256;

void give_up_in(TravelCell& cell, const Line* lines, int count) {
    double lower = 0;
    for (int k = 0; k < count; ++k) {
        lower = std::max(lower, std::min(lines[k].at_from, lines[k].at_to));
    }
    cell.given_up_mm = std::min(cell.given_up_mm, lower);
}

/// The middle of the part of the envelope that a body stands for.
Slope middle_of(const BodyInFrame& body, Travel at) {
    const SlopeRange off = body.off_reference(at);
    return {body.reference.x + off.middle().x, body.reference.y + off.middle().y};
}

} // namespace

void TriangleSearch::leaf_pair(const Work& work, const BoxNode& na, const BoxNode& nb) {
    std::array<Triangle, Hierarchy::kLeafTriangles> of_first;
    std::array<Triangle, Hierarchy::kLeafTriangles> of_second;
    for (std::uint32_t i = 0; i < na.count; ++i) {
        of_first[i] = triangles_.of_first(pair_.first.triangle(na.first + i));
    }
    for (std::uint32_t j = 0; j < nb.count; ++j) {
        of_second[j] = triangles_.of_second(pair_.second.triangle(nb.first + j));
    }
    const float share = work.share / static_cast<float>(na.count * nb.count);
    for (std::uint32_t i = 0; i < na.count; ++i) {
        for (std::uint32_t j = 0; j < nb.count; ++j) {
            over_cells({(na.first + i) | kPlace, (nb.first + j) | kPlace, work.from, work.to, share}, of_first[i],
                       of_second[j]);
        }
    }
}

void TriangleSearch::triangle_pair(const Work& work) {
    over_cells(work, triangles_.of_first(pair_.first.triangle(work.a & ~kPlace)),
               triangles_.of_second(pair_.second.triangle(work.b & ~kPlace)));
}

void TriangleSearch::over_cells(const Work& work, const Triangle& a, const Triangle& b) {
    const std::uint32_t i = pair_.first.triangle(work.a & ~kPlace);
    const std::uint32_t j = pair_.second.triangle(work.b & ~kPlace);
    struct Range {
        std::uint32_t from, to;
    };
    std::array<Range, 64> open; // halving 2^32 cells needs no more
    std::size_t count = 0;
    open[count++] = {work.from, work.to};
    // The faces' own directions cost little and settle most pairs.
    {
        Range& whole = open[0];
        const Vec3 faces[2] = {glm::cross(a[1] - a[0], a[2] - a[0]), glm::cross(b[1] - b[0], b[2] - b[0])};
        const TravelCell& middle = cells_[(whole.from + whole.to) / 2];
        for (const Vec3& face : faces) {
            const double size = glm::length(face);
            if (size > 0 && whole.from < whole.to) {
                const Vec3 towards = b[0] + middle.rise_from * motion_.up - a[0];
                const Vec3 direction = face * ((glm::dot(face, towards) < 0 ? -1 : 1) / size);
                trim(cells_, triangles_.lower(direction, a, b, cells_[whole.from], cells_[whole.to - 1]), whole.from,
                     whole.to);
            }
        }
    }
    bool all = true;
    while (count > 0) {
        Range range = open[--count];
        if (range.from == range.to) {
            continue;
        }
        if (range.to - range.from == 1) {
            if (cells_[range.from].in_contact()) {
                continue;
            }
            if (states_[range.from].unsettled || !settle(range.from, i, a, j, b)) {
                states_[range.from].unsettled = true;
                tally_.put_off.push_back(
                    {work.a, work.b, range.from, range.to, work.share / static_cast<float>(work.to - work.from)});
                all = false;
            }
            continue;
        }
        const std::uint32_t middle = (range.from + range.to) / 2;
        ++tally_.counts.triangles;
        const auto measured = triangles_.measure(i, a, j, b, cells_[middle].from, cells_[middle].rise_from);
        offer(measured, middle, true);
        if (measured.nearest.direction != Vec3{0.0}) {
            trim(cells_, triangles_.lower(measured.nearest.direction, a, b, cells_[range.from], cells_[range.to - 1]),
                 range.from, range.to);
        }
        if (range.from >= middle || range.to <= middle) {
            open[count++] = range;
        } else {
            open[count++] = {middle, range.to};
            open[count++] = {range.from, middle};
        }
    }
    if (all) {
        tally_.settled += work.share;
    }
}

/// Hands a measured pair's chord to its cell if it looks better than what the cell has.
void TriangleSearch::offer(TriangleBounds::Measured measured, std::uint32_t cell, bool at_from) {
    const double there = at_from ? cells_[cell].upper.at_from : cells_[cell].upper.at_to;
    if (measured.nearest.distance < there) {
        const Line chord = triangles_.upper(measured, cells_[cell], at_from);
        improve(cells_[cell], chord, measured.witness, goal_, 0.02 * goal_.slack_mm);
    }
}

/// One pair in one cell. False: the cell must be cut to settle it.
bool TriangleSearch::settle(std::uint32_t index, std::uint32_t i, const Triangle& a, std::uint32_t j,
                            const Triangle& b) {
    TravelCell& cell = cells_[index];
    tally_.counts.triangles += 2;
    const auto before = triangles_.measure(i, a, j, b, cell.from, cell.rise_from);
    offer(before, index, true);
    std::array<Line, 3> lines;
    int count = 0;
    const auto bound = [&](const NearestPoints& nearest) {
        if (nearest.direction != Vec3{0.0}) {
            lines[static_cast<std::size_t>(count++)] = triangles_.lower(nearest.direction, a, b, cell, cell);
        }
        return count > 0 && reach(lines.data(), count, cell.wanted);
    };
    if (bound(before.nearest)) {
        return true;
    }
    const auto after = triangles_.measure(i, a, j, b, cell.to, cell.rise_to);
    offer(after, index, false);
    if (cell.in_contact() || bound(after.nearest)) {
        return true;
    }
    const Travel half{0.5 * (cell.from.mm + cell.to.mm)};
    ++tally_.counts.triangles;
    const auto middle = triangles_.measure(i, a, j, b, half, 0.5 * (cell.rise_from + cell.rise_to));
    if (bound(middle.nearest)) {
        return true;
    }
    slope_parts_ = 0;
    if (triangles_.tilts() && settle_by_slopes(cell, i, j, motion_.first.shares, motion_.second.shares, 0)) {
        return true;
    }
    if (cell.in_contact()) {
        return true;
    }
    const bool near_contact = cell.wanted.at_from < goal_.slack_mm || cell.wanted.at_to < goal_.slack_mm;
    if (cell.width_mm() <= (near_contact ? goal_.least_width_mm : kLeastCut_mm)) {
        give_up_in(cell, lines.data(), count);
        return true;
    }
    // Cutting the travel would not help where the slopes are in the way; near contact it does: other pairs may be in touch
    // all through the halves, and what is left is soon too narrow to be cut.
    if (slope_parts_ > kMostSlopeParts && !near_contact) {
        give_up_in(cell, lines.data(), count);
        tally_.counts.budget_spent = true;
        return true;
    }
    Cut cut{Cut::Kind::middle, half.mm};
    if (!triangles_.tilts()) {
        const bool touch_before = before.nearest.distance <= kTouch_mm;
        const bool touch_after = after.nearest.distance <= kTouch_mm;
        const bool touch_middle = middle.nearest.distance <= kTouch_mm;
        if (!touch_before && (touch_after || touch_middle)) {
            cut = contact_from(cell, i, a, j, b, true);
        } else if (touch_before && !touch_after) {
            cut = contact_from(cell, i, a, j, b, false);
        }
    }
    states_[index].cut.take(cut);
    return false;
}

/// Where contact starts (or, from the far end, where it ends): from a clear travel along the tangent to where it
/// meets nothing, again and again. By convexity it never goes past.
Cut TriangleSearch::contact_from(const TravelCell& cell, std::uint32_t i, const Triangle& a, std::uint32_t j,
                                 const Triangle& b, bool start) const {
    const double length = cell.rise_to - cell.rise_from;
    double share = start ? 0 : 1;
    for (int step = 0; step < 20; ++step) {
        const double rise = cell.rise_from + share * length;
        const auto seen = triangles_.measure(i, a, j, b, {cell.from.mm + share * cell.width_mm()}, rise);
        const double approach = glm::dot(seen.nearest.direction, motion_.up) * length * (start ? -1 : 1);
        if (seen.nearest.distance <= kTouch_mm || approach <= 0) {
            break;
        }
        share += (start ? 1 : -1) * seen.nearest.distance / approach;
        if (share <= 0 || share >= 1) {
            break;
        }
    }
    const double margin = kLeastCut_mm / cell.width_mm();
    if (!(share > margin && share < 1 - margin)) {
        return {Cut::Kind::middle, cell.from.mm + 0.5 * cell.width_mm()};
    }
    return {start ? Cut::Kind::start_of_contact : Cut::Kind::end_of_contact, cell.from.mm + share * cell.width_mm()};
}

/// Parts the slope box until each part settles the pair in this cell, or the slopes are no longer what is in the way.
bool TriangleSearch::settle_by_slopes(TravelCell& cell, std::uint32_t i, std::uint32_t j, const ShareRange& of_first,
                                      const ShareRange& of_second, int depth) {
    if (++slope_parts_ > kMostSlopeParts) {
        return false;
    }
    const RelativeMotion part = motion_.within(of_first, of_second);
    const TriangleBounds bounds(pair_.first_mesh, pair_.second_mesh, part);
    std::vector<TravelCell> own{cell};
    fit_to(own, part);
    const Triangle a = bounds.of_first(i);
    const Triangle b = bounds.of_second(j);
    std::array<Line, 4> lines;
    int count = 0;
    double loss = 0;
    for (const bool at_from : {true, false}) {
        const Travel at = at_from ? cell.from : cell.to;
        // At the middle of the slopes as well as at their corners: the nearest may be between.
        const Witness middle{i, j, middle_of(part.first, at), middle_of(part.second, at)};
        TriangleBounds::Measured seen[2] = {
            {bounds.measure_on(middle, at), middle},
            bounds.measure(i, a, j, b, at, at_from ? own[0].rise_from : own[0].rise_to)};
        for (auto& measured : seen) {
            ++tally_.counts.triangles;
            if (measured.nearest.distance < (at_from ? cell.upper.at_from : cell.upper.at_to)) {
                TriangleBounds::Measured offered = measured;
                const Line chord = bounds.upper(offered, own[0], at_from);
                improve(cell, chord, offered.witness, goal_, 0.02 * goal_.slack_mm);
                own[0].upper = cell.upper;
            }
            if (measured.nearest.direction != Vec3{0.0}) {
                const Line line = bounds.lower(measured.nearest.direction, a, b, own[0], own[0]);
                lines[static_cast<std::size_t>(count++)] = line;
                loss = std::max(loss, measured.nearest.distance - (at_from ? line.at_from : line.at_to));
            } else {
                loss = 1e300;
            }
            if (cell.in_contact() || (count > 0 && reach(lines.data(), count, cell.wanted))) {
                return true;
            }
        }
    }
    const double ride = std::abs(cell.rise_to - cell.rise_from);
    if (depth >= 24 || loss <= 0.25 * std::min(goal_.slack_mm, std::max(ride, 1e-4))) {
        return false;
    }
    // The part whose travel moves the pair the most is halved.
    const auto spread = [&](const BodyInFrame& body, const SlopeRange& off, const Triangle& t, bool in_x) {
        if (!body.tilts) {
            return 0.0;
        }
        double most = 0;
        for (const Vec3& corner : t) {
            const Vec3 moved = (in_x ? body.per_x : body.per_y) * (corner - body.pivot_mm);
            most = std::max(most, glm::length(moved));
        }
        return most * (in_x ? off.high.x - off.low.x : off.high.y - off.low.y);
    };
    const std::array<double, 4> spreads{
        spread(part.first, own[0].first_from, a, true), spread(part.first, own[0].first_from, a, false),
        spread(part.second, own[0].second_from, b, true), spread(part.second, own[0].second_from, b, false)};
    const auto widest = static_cast<std::size_t>(std::max_element(spreads.begin(), spreads.end()) - spreads.begin());
    if (spreads[widest] <= 0) {
        return false;
    }
    for (const bool upper_half : {false, true}) {
        ShareRange first = of_first;
        ShareRange second = of_second;
        ShareRange& halved = widest < 2 ? first : second;
        const bool in_x = widest % 2 == 0;
        double& low = in_x ? halved.low.x : halved.low.y;
        double& high = in_x ? halved.high.x : halved.high.y;
        (upper_half ? low : high) = 0.5 * (low + high);
        if (!settle_by_slopes(cell, i, j, first, second, depth + 1)) {
            return false;
        }
    }
    return true;
}

} // namespace evenclose
